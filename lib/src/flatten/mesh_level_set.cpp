#include "flatten/mesh_level_set.hpp"

#include <BRepBuilderAPI_Copy.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Tool.hxx>
#include <Poly_PolygonOnTriangulation.hxx>
#include <Poly_Triangulation.hxx>
#include <TColStd_HArray1OfReal.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <map>
#include <string>
#include <utility>

#include "planform/error.hpp"

namespace planform::flatten {
namespace {

/// Deflection of the mesh as a share of the tolerance, and its largest turn from triangle to triangle.
constexpr double deflection_share = 0.25;
constexpr double largest_turn = 0.1;  // rad

[[noreturn]] void fail(const std::string& cause) {
    throw GeometryError(ErrorKind::face_not_flattened, cause);
}

/// Two mesh nodes, lower first.
using Side = std::pair<int, int>;
Side side_of(int a, int b) { return std::minmax(a, b); }

/// Where the zero set crosses a side of a triangle.
struct SideCrossing {
    int node;  ///< of the arrangement
    Point2 position;
};

class MeshFollower {
  public:
    MeshFollower(const GraphFace& face, const LevelField& field, const ShapeGraph& graph,
                 const std::vector<int>& vertex_nodes,
                 const std::function<int(int, double)>& node_at, Outline& outline,
                 double tolerance)
        : face_(face),
          field_(field),
          graph_(graph),
          vertex_nodes_(vertex_nodes),
          node_at_(node_at),
          outline_(outline) {
        mesh(tolerance);
    }

    MeshLevelSet run() {
        for (int i = 1; i <= triangulation_->NbNodes(); ++i) values_.push_back(field_.value(uv(i)));
        for (std::size_t i = 0; i < face_.uses.size(); ++i) walk_use(face_.uses[i], edges_[i]);
        for (int i = 1; i <= triangulation_->NbTriangles(); ++i) cut_triangle(i);
        return std::move(set_);
    }

  private:
    /// The mesh is made on a copy, so that the caller's shape stays as it is.
    void mesh(double tolerance) {
        BRepBuilderAPI_Copy copier(face_.shape, Standard_True, Standard_False);
        copy_ = TopoDS::Face(copier.Shape().Oriented(TopAbs_FORWARD));
        BRepMesh_IncrementalMesh(copy_, deflection_share * tolerance, Standard_False, largest_turn);
        TopLoc_Location location;
        triangulation_ = BRep_Tool::Triangulation(copy_, location);
        if (triangulation_.IsNull() || !triangulation_->HasUVNodes())
            fail("its folds can't be followed and the kernel can't mesh it; repair the face");
        for (TopExp_Explorer it(copy_, TopAbs_EDGE); it.More(); it.Next()) {
            const TopAbs_Orientation way = it.Current().Orientation();
            if (way != TopAbs_FORWARD && way != TopAbs_REVERSED) continue;
            const TopoDS_Edge& edge = TopoDS::Edge(it.Current());
            polygons_.push_back(BRep_Tool::PolygonOnTriangulation(edge, triangulation_, location));
            edges_.push_back(static_cast<int>(polygons_.size()) - 1);
        }
        if (edges_.size() != face_.uses.size()) fail("its mesh has other edges than itself");
    }

    Point2 uv(int node) const {
        const gp_Pnt2d p = triangulation_->UVNode(node);
        return {p.X(), p.Y()};
    }
    bool positive(int node) const { return values_[static_cast<std::size_t>(node - 1)] > 0.0; }

    /// Stretches of one edge where the field is positive, and the crossings on its polygon.
    void walk_use(const EdgeUse& use, int polygon_index) {
        const Handle(Poly_PolygonOnTriangulation)& polygon =
            polygons_[static_cast<std::size_t>(polygon_index)];
        if (polygon.IsNull() || polygon->Parameters().IsNull())
            fail("its mesh does not follow one of its edges");
        const GraphEdge& edge = graph_.edges[static_cast<std::size_t>(use.edge)];
        const TColStd_Array1OfInteger& nodes = polygon->Nodes();
        const TColStd_Array1OfReal& at = polygon->Parameters()->Array1();
        const int weight = use.along == (face_.outward > 0) ? 1 : -1;
        double from = at.First();
        for (int i = nodes.Lower(); i < nodes.Upper(); ++i) {
            const int a = nodes(i), b = nodes(i + 1);
            if (a == b || positive(a) == positive(b)) continue;
            const double t = at(i) + (at(i + 1) - at(i)) * zero_between(a, b);
            const SideCrossing crossing = edge.degenerate() ? pole(edge) : on_edge(use.edge, edge, t);
            crossings_.insert_or_assign(side_of(a, b), crossing);
            if (positive(a) && !edge.degenerate()) set_.stretches.push_back({use.edge, from, t, weight});
            from = t;
        }
        if (positive(nodes(nodes.Upper())) && !edge.degenerate())
            set_.stretches.push_back({use.edge, from, at.Last(), weight});
    }

    SideCrossing pole(const GraphEdge& edge) const {
        const auto vertex = static_cast<std::size_t>(edge.start_vertex);
        return {vertex_nodes_[vertex], graph_.vertices[vertex].head<2>()};
    }

    SideCrossing on_edge(int index, const GraphEdge& edge, double t) const {
        return {node_at_(index, t), edge.point(t).head<2>()};
    }

    /// Share of the way from node a to node b at which the field changes its sign.
    double zero_between(int a, int b) const {
        double low = 0.0, high = 1.0;
        const Point2 start = uv(a), way = uv(b) - uv(a);
        for (int i = 0; i < 60; ++i) {
            const double middle = 0.5 * (low + high);
            ((field_.value(start + middle * way) > 0.0) == positive(a) ? low : high) = middle;
        }
        return 0.5 * (low + high);
    }

    const SideCrossing& crossing(int a, int b) {
        const auto [place, is_new] = crossings_.try_emplace(side_of(a, b));
        if (is_new) {
            // Always from the lower node, so that both triangles find the same point.
            const auto [low, high] = side_of(a, b);
            const Point2 at = uv(low) + zero_between(low, high) * (uv(high) - uv(low));
            place->second.position = field_.surface().first_order(at).position.head<2>();
            place->second.node = outline_.add_node(place->second.position);
        }
        return place->second;
    }

    /// In a triangle a, b, c (counter-clockwise in u, v) with one node on its own side of zero, the zero
    /// set runs from one of that node's two sides to the other, positive on the left.
    void cut_triangle(int index) {
        std::array<int, 3> n{};
        triangulation_->Triangle(index).Get(n[0], n[1], n[2]);
        if (cross(uv(n[1]) - uv(n[0]), uv(n[2]) - uv(n[0])) < 0.0) std::swap(n[1], n[2]);
        for (std::size_t i = 0; i < 3; ++i) {
            const int lone = n[i], next = n[(i + 1) % 3], last = n[(i + 2) % 3];
            if (positive(lone) == positive(next) || positive(lone) == positive(last)) continue;
            const SideCrossing& ahead = crossing(lone, next);
            const SideCrossing& behind = crossing(last, lone);
            // Counter-clockwise about the positive part, seen from outside.
            const bool forward = positive(lone) == (face_.outward > 0);
            const SideCrossing& start = forward ? ahead : behind;
            const SideCrossing& end = forward ? behind : ahead;
            LevelCurve piece{{}, start.node, end.node};
            if (start.position != end.position) piece.curves = {Line{start.position, end.position}};
            set_.curves.push_back(std::move(piece));
        }
    }

    const GraphFace& face_;
    const LevelField& field_;
    const ShapeGraph& graph_;
    const std::vector<int>& vertex_nodes_;
    const std::function<int(int, double)>& node_at_;
    Outline& outline_;
    TopoDS_Face copy_;
    Handle(Poly_Triangulation) triangulation_;
    std::vector<Handle(Poly_PolygonOnTriangulation)> polygons_;
    std::vector<int> edges_;
    std::vector<double> values_;
    std::map<Side, SideCrossing> crossings_;
    MeshLevelSet set_;
};

}  // namespace

MeshLevelSet follow_folds_on_mesh(const GraphFace& face, const LevelField& field,
                                  const ShapeGraph& graph, const std::vector<int>& vertex_nodes,
                                  const std::function<int(int edge, double t)>& node_at,
                                  Outline& outline, double tolerance) {
    return MeshFollower(face, field, graph, vertex_nodes, node_at, outline, tolerance).run();
}

}  // namespace planform::flatten
