#include "solid/shape_graph.hpp"

#include <BRep_Tool.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS_Iterator.hxx>
#include <TopoDS_Vertex.hxx>
#include <cstddef>
#include <gp_Ax3.hxx>
#include <string>
#include <utility>

#include "model/body/solid_data.hpp"
#include "model/kernel/points.hpp"
#include "planform/error.hpp"

namespace planform::solid {

class ShapeGraphBuilder {
  public:
    explicit ShapeGraphBuilder(const gp_Trsf& placement) {
        graph_.placement = placement;
        graph_.placements_.push_back(placement);
    }

    ShapeGraph run(const TopoDS_Shape& shape, EdgeReading reading) {
        add_faces_below(shape);
        share_uses();
        for (std::size_t i = 0; i < graph_.edges.size(); ++i)
            if (reading == EdgeReading::at_once || balance_[i] != 0)
                graph_.read_edge(static_cast<int>(i));
        for (std::size_t i = 0; i < balance_.size(); ++i) {
            if (balance_[i] == 0 || graph_.edges[i].degenerate()) continue;
            graph_.closed = false;
            if (graph_.first_open_edge == 0) graph_.first_open_edge = graph_.edges[i].number;
        }
        return std::move(graph_);
    }

  private:
    void add_faces_below(const TopoDS_Shape& shape) {
        if (shape.ShapeType() == TopAbs_FACE) {
            add_face(TopoDS::Face(shape));
            return;
        }
        if (shape.ShapeType() > TopAbs_FACE) return;
        for (TopoDS_Iterator part(shape); part.More(); part.Next()) add_faces_below(part.Value());
    }

    void add_face(const TopoDS_Face& shape) {
        GraphFace& face = graph_.faces.emplace_back();
        face.shape = shape;
        face.shape.Orientation(TopAbs_FORWARD);
        face.outward = shape.Orientation() == TopAbs_REVERSED ? -1 : 1;
        face.number = faces_.number(shape).first + 1;
        for (TopoDS_Iterator wire(face.shape); wire.More(); wire.Next()) {
            if (wire.Value().ShapeType() != TopAbs_WIRE) continue;
            for (TopoDS_Iterator it(wire.Value()); it.More(); it.Next())
                add_use(it.Value(), face.outward);
        }
        last_uses_.push_back(graph_.uses_.size());
    }

    void add_use(const TopoDS_Shape& edge, int outward) {
        const auto [index, is_new] = edges_.number(edge);
        if (is_new) {
            graph_.edges.emplace_back().number = index + 1;
            graph_.edge_shapes_.push_back(TopoDS::Edge(edge));
            graph_.edge_shapes_.back().Orientation(TopAbs_FORWARD);
            balance_.push_back(0);
        }
        if (edge.Orientation() != TopAbs_FORWARD && edge.Orientation() != TopAbs_REVERSED)
            return;  // lies inside the face and bounds nothing
        const bool along = edge.Orientation() == TopAbs_FORWARD;
        graph_.uses_.push_back(
            {index, along, &graph_.edge_shapes_[static_cast<std::size_t>(index)]});
        balance_[static_cast<std::size_t>(index)] += along ? outward : -outward;
    }

    void share_uses() {
        std::size_t first = 0;
        for (std::size_t i = 0; i < graph_.faces.size(); ++i) {
            graph_.faces[i].uses = {graph_.uses_.data() + first, last_uses_[i] - first};
            first = last_uses_[i];
        }
    }

    ShapeGraph graph_;
    model::ShapeNumbering edges_, faces_;
    std::vector<int> balance_;
    std::vector<std::size_t> last_uses_;  // by face: one past its uses
};

Point3 GraphEdge::point(double t) const {
    gp_Pnt p = curve->Value(t);
    if (is_placed) p.Transform(placement());
    return model::from_kernel(p);
}

void ShapeGraph::read_edge(int index) {
    GraphEdge& edge = edges[static_cast<std::size_t>(index)];
    if (edge.is_read) return;
    edge.is_read = true;
    const TopoDS_Edge& shape = edge_shapes_[static_cast<std::size_t>(index)];
    for (TopoDS_Iterator it(shape); it.More(); it.Next()) {
        if (it.Value().Orientation() == TopAbs_FORWARD && edge.start_vertex < 0)
            edge.start_vertex = vertex(it.Value());
        else if (it.Value().Orientation() == TopAbs_REVERSED)
            edge.end_vertex = vertex(it.Value());
    }
    edge.placed_by = &placements_.front();
    if (BRep_Tool::Degenerated(shape)) return;
    TopLoc_Location location;
    edge.curve = BRep_Tool::Curve(shape, location, edge.first, edge.last);
    if (edge.curve.IsNull() || edge.start_vertex < 0 || edge.end_vertex < 0)
        throw GeometryError(ErrorKind::face_not_flattened,
                            "edge " + std::to_string(edge.number) +
                                " has no curve or no vertices; repair the model");
    edge.placed_by = placed(location);
    edge.is_placed = edge.placement().Form() != gp_Identity;
}

void ShapeGraph::give_back(const Solid& solid) const {
    model::FaceBoundaries::ByFace read;
    read.reserve(faces.size());
    for (const GraphFace& face : faces) read.push_back(face.boundary);
    solid.data().boundaries->keep(std::move(read));
}

void ShapeGraph::move(const Datum& from, const Datum& to) {
    gp_Trsf motion = datum_transform(to);
    motion.Multiply(datum_transform(from).Inverted());
    placement.PreMultiply(motion);
    for (gp_Trsf& placed : placements_) placed.PreMultiply(motion);
    for (GraphEdge& edge : edges)
        if (edge.placed_by) edge.is_placed = edge.placement().Form() != gp_Identity;
    for (Point3& vertex : vertices)
        vertex = model::from_kernel(model::to_kernel_point(vertex).Transformed(motion));
}

int ShapeGraph::vertex(const TopoDS_Shape& shape) {
    const auto [index, is_new] = vertex_numbers_.number(shape);
    if (is_new)
        vertices.push_back(
            model::from_kernel(BRep_Tool::Pnt(TopoDS::Vertex(shape)).Transformed(placement)));
    return index;
}

const gp_Trsf* ShapeGraph::placed(const TopLoc_Location& location) {
    if (location.IsIdentity()) return &placements_.front();
    if (placements_.size() == 1 || last_location_ != location) {
        placements_.push_back(placement.Multiplied(location.Transformation()));
        last_location_ = location;
    }
    return &placements_.back();
}

gp_Trsf datum_transform(const Datum& datum) {
    gp_Trsf transform;
    transform.SetTransformation(gp_Ax3(model::to_kernel_point(datum.origin()),
                                       model::to_kernel_direction(datum.normal()),
                                       model::to_kernel_direction(datum.x())));
    return transform;
}

ShapeGraph build_shape_graph(const TopoDS_Shape& shape, const Datum& datum, EdgeReading reading) {
    // The solid's own location is left out of the walk, or each part of it would be placed anew.
    const gp_Trsf own = shape.Location().Transformation();
    gp_Trsf placement = datum_transform(datum);
    placement.Multiply(own);
    return ShapeGraphBuilder(placement).run(shape.Located(TopLoc_Location()), reading);
}

ShapeGraph build_shape_graph(const Solid& solid, const Datum& datum, EdgeReading reading) {
    ShapeGraph graph = build_shape_graph(solid.data().shape, datum, reading);
    const model::FaceBoundaries::ByFace known = solid.data().boundaries->known();
    for (std::size_t i = 0; i < known.size(); ++i) graph.faces[i].boundary = known[i];
    return graph;
}

}  // namespace planform::solid
