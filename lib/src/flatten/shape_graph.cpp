#include "flatten/shape_graph.hpp"

#include <BRep_Tool.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Vertex.hxx>
#include <gp_Ax3.hxx>
#include <string>

#include "planform/error.hpp"

namespace planform::flatten {
namespace {

gp_Pnt to_kernel_point(const Point3& p) { return {p.x(), p.y(), p.z()}; }
gp_Dir to_kernel_direction(const Vector3& v) { return {v.x(), v.y(), v.z()}; }
Point3 from_kernel(const gp_Pnt& p) { return {p.X(), p.Y(), p.Z()}; }

class Builder {
  public:
    explicit Builder(const TopoDS_Shape& shape) {
        TopExp::MapShapes(shape, TopAbs_VERTEX, vertex_map_);
        TopExp::MapShapes(shape, TopAbs_EDGE, edge_map_);
        TopExp::MapShapes(shape, TopAbs_FACE, face_map_);
        shape_ = shape;
    }

    ShapeGraph run() {
        for (int i = 1; i <= vertex_map_.Extent(); ++i)
            graph_.vertices.push_back(
                from_kernel(BRep_Tool::Pnt(TopoDS::Vertex(vertex_map_(i)))));
        for (int i = 1; i <= edge_map_.Extent(); ++i) add_edge(i);
        balance_.assign(graph_.edges.size(), 0);
        for (TopExp_Explorer faces(shape_, TopAbs_FACE); faces.More(); faces.Next())
            add_face(TopoDS::Face(faces.Current()));
        for (std::size_t i = 0; i < balance_.size(); ++i) {
            if (balance_[i] == 0 || graph_.edges[i].degenerate()) continue;
            graph_.closed = false;
            if (graph_.first_open_edge == 0) graph_.first_open_edge = graph_.edges[i].number;
        }
        return std::move(graph_);
    }

  private:
    void add_edge(int number) {
        const TopoDS_Edge shape = TopoDS::Edge(edge_map_(number).Oriented(TopAbs_FORWARD));
        GraphEdge edge;
        edge.shape = shape;
        edge.number = number;
        TopoDS_Vertex start, end;
        TopExp::Vertices(shape, start, end);
        edge.start_vertex = start.IsNull() ? -1 : vertex_map_.FindIndex(start) - 1;
        edge.end_vertex = end.IsNull() ? -1 : vertex_map_.FindIndex(end) - 1;
        if (!BRep_Tool::Degenerated(shape)) {
            TopLoc_Location location;
            edge.curve = BRep_Tool::Curve(shape, location, edge.first, edge.last);
            if (edge.curve.IsNull() || edge.start_vertex < 0 || edge.end_vertex < 0)
                throw GeometryError(ErrorKind::face_not_flattened,
                                    "edge " + std::to_string(number) +
                                        " has no curve or no vertices; repair the model");
            edge.is_placed = !location.IsIdentity();
            edge.placement = location.Transformation();
        }
        graph_.edges.push_back(edge);
    }

    void add_face(const TopoDS_Face& shape) {
        GraphFace face;
        face.shape = TopoDS::Face(shape.Oriented(TopAbs_FORWARD));
        face.outward = shape.Orientation() == TopAbs_REVERSED ? -1 : 1;
        face.number = face_map_.FindIndex(shape);
        for (TopExp_Explorer edges(face.shape, TopAbs_EDGE); edges.More(); edges.Next()) {
            const TopoDS_Edge& edge = TopoDS::Edge(edges.Current());
            if (edge.Orientation() != TopAbs_FORWARD && edge.Orientation() != TopAbs_REVERSED)
                continue;  // lies inside the face and bounds nothing
            const bool along = edge.Orientation() == TopAbs_FORWARD;
            const int index = edge_map_.FindIndex(edge) - 1;
            face.uses.push_back({index, along, edge});
            balance_[static_cast<std::size_t>(index)] += (along ? 1 : -1) * face.outward;
        }
        graph_.faces.push_back(std::move(face));
    }

    TopoDS_Shape shape_;
    TopTools_IndexedMapOfShape vertex_map_, edge_map_, face_map_;
    ShapeGraph graph_;
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
    const TopLoc_Location to_datum(datum_transform(datum));
    return Builder(shape.Moved(to_datum)).run();
}

}  // namespace planform::flatten
