#include "flatten/shape_graph.hpp"

#include <BRep_Tool.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Iterator.hxx>
#include <TopoDS_TShape.hxx>
#include <TopoDS_Vertex.hxx>
#include <cstddef>
#include <gp_Ax3.hxx>
#include <string>
#include <unordered_map>
#include <utility>

#include "planform/error.hpp"

namespace planform::flatten {
namespace {

gp_Pnt to_kernel_point(const Point3& p) { return {p.x(), p.y(), p.z()}; }
gp_Dir to_kernel_direction(const Vector3& v) { return {v.x(), v.y(), v.z()}; }
Point3 from_kernel(const gp_Pnt& p) { return {p.X(), p.Y(), p.Z()}; }

/// Numbers distinct shapes from 0 on in the order of their first appearance; orientation does not
/// count (the kernel's IsSame). The kernel's own indexed maps do the same at several times the
/// cost.
class Numbering {
  public:
    /// The number of the shape, and whether it is new.
    std::pair<int, bool> number(const TopoDS_Shape& shape) {
        const int next = static_cast<int>(locations_.size());
        const auto [place, is_new] = first_.try_emplace(shape.TShape().get(), next);
        if (!is_new) {
            for (int i = place->second; i >= 0; i = others_[static_cast<std::size_t>(i)])
                if (locations_[static_cast<std::size_t>(i)] == shape.Location()) return {i, false};
            others_.push_back(place->second);
            place->second = next;
        } else {
            others_.push_back(-1);
        }
        locations_.push_back(shape.Location());
        return {next, true};
    }

  private:
    std::unordered_map<const TopoDS_TShape*, int> first_;
    std::vector<TopLoc_Location> locations_;
    std::vector<int> others_;  ///< the same entity at another location, or -1
};

class Builder {
  public:
    explicit Builder(const gp_Trsf& placement) { graph_.placement = placement; }

    ShapeGraph run(const TopoDS_Shape& shape) {
        add_faces_below(shape);
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
        GraphFace face;
        face.shape = TopoDS::Face(shape.Oriented(TopAbs_FORWARD));
        face.outward = shape.Orientation() == TopAbs_REVERSED ? -1 : 1;
        face.number = faces_.number(shape).first + 1;
        for (TopoDS_Iterator wire(face.shape); wire.More(); wire.Next()) {
            if (wire.Value().ShapeType() != TopAbs_WIRE) continue;
            for (TopoDS_Iterator it(wire.Value()); it.More(); it.Next())
                add_use(TopoDS::Edge(it.Value()), face);
        }
        graph_.faces.push_back(std::move(face));
    }

    void add_use(const TopoDS_Edge& edge, GraphFace& face) {
        const auto [index, is_new] = edges_.number(edge);
        if (is_new) add_edge(edge, index + 1);
        if (edge.Orientation() != TopAbs_FORWARD && edge.Orientation() != TopAbs_REVERSED)
            return;  // lies inside the face and bounds nothing
        const bool along = edge.Orientation() == TopAbs_FORWARD;
        face.uses.push_back({index, along, edge});
        balance_[static_cast<std::size_t>(index)] += (along ? 1 : -1) * face.outward;
    }

    void add_edge(const TopoDS_Edge& shape, int number) {
        GraphEdge& edge = graph_.edges.emplace_back();
        balance_.push_back(0);
        edge.number = number;
        for (TopoDS_Iterator it(shape.Oriented(TopAbs_FORWARD)); it.More(); it.Next()) {
            if (it.Value().Orientation() == TopAbs_FORWARD && edge.start_vertex < 0)
                edge.start_vertex = vertex(TopoDS::Vertex(it.Value()));
            else if (it.Value().Orientation() == TopAbs_REVERSED)
                edge.end_vertex = vertex(TopoDS::Vertex(it.Value()));
        }
        if (BRep_Tool::Degenerated(shape)) return;
        TopLoc_Location location;
        edge.curve = BRep_Tool::Curve(shape, location, edge.first, edge.last);
        if (edge.curve.IsNull() || edge.start_vertex < 0 || edge.end_vertex < 0)
            throw GeometryError(ErrorKind::face_not_flattened,
                                "edge " + std::to_string(number) +
                                    " has no curve or no vertices; repair the model");
        edge.placement = graph_.placement;
        if (!location.IsIdentity()) edge.placement.Multiply(location.Transformation());
        edge.is_placed = edge.placement.Form() != gp_Identity;
    }

    int vertex(const TopoDS_Vertex& shape) {
        const auto [index, is_new] = vertices_.number(shape);
        if (is_new)
            graph_.vertices.push_back(
                from_kernel(BRep_Tool::Pnt(shape).Transformed(graph_.placement)));
        return index;
    }

    ShapeGraph graph_;
    Numbering vertices_, edges_, faces_;
    std::vector<int> balance_;
};

}  // namespace

Point3 GraphEdge::point(double t) const {
    gp_Pnt p = curve->Value(t);
    if (is_placed) p.Transform(placement);
    return from_kernel(p);
}

gp_Trsf datum_transform(const Datum& datum) {
    gp_Trsf transform;
    transform.SetTransformation(gp_Ax3(to_kernel_point(datum.origin()),
                                       to_kernel_direction(datum.normal()),
                                       to_kernel_direction(datum.x())));
    return transform;
}

ShapeGraph build_shape_graph(const TopoDS_Shape& shape, const Datum& datum) {
    // The solid's own location is left out of the walk, or each part of it would be placed anew.
    const gp_Trsf own = shape.Location().Transformation();
    gp_Trsf placement = datum_transform(datum);
    placement.Multiply(own);
    return Builder(placement).run(shape.Located(TopLoc_Location()));
}

}  // namespace planform::flatten
