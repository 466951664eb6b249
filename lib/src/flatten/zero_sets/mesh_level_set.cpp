#include "flatten/zero_sets/mesh_level_set.hpp"

#include <BRepBuilderAPI_Copy.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Tool.hxx>
#include <IMeshTools_Parameters.hxx>
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
#include <set>
#include <string>
#include <utility>

#include "curve/bisection.hpp"
#include "flatten/zero_sets/fold_fit.hpp"
#include "model/kernel/points.hpp"
#include "planform/error.hpp"

namespace planform::flatten {
namespace {

/// Deflection of the mesh as a share of the tolerance, and its largest turn from triangle to
/// triangle.
constexpr double deflection_share = 0.5;
constexpr double largest_turn = 0.2;  // rad

[[noreturn]] void fail_on_mesh(const std::string& cause) {
    throw GeometryError(ErrorKind::face_not_flattened, cause);
}

/// Two mesh nodes, lower first.
using TriangleSide = std::pair<int, int>;
TriangleSide side_of(int a, int b) { return std::minmax(a, b); }

/// Where the zero set crosses a side of a triangle.
struct SideCrossing {
    int node = -1;  ///< of the arrangement
    Point2 uv = Point2::Zero();
};

class MeshFollower {
  public:
    MeshFollower(const solid::GraphFace& face, const LevelField& field,
                 const solid::ShapeGraph& graph, const std::vector<int>& vertex_nodes,
                 const std::function<int(int, double)>& node_at, double tolerance)
        : face_(face),
          field_(field),
          graph_(graph),
          vertex_nodes_(vertex_nodes),
          node_at_(node_at),
          tolerance_(tolerance) {
        mesh(tolerance);
    }

    MeshLevelSet run() {
        for (int i = 1; i <= triangulation_->NbNodes(); ++i) values_.push_back(field_.value(uv(i)));
        for (std::size_t i = 0; i < face_.uses.size(); ++i) walk_use(face_.uses[i], polygons_[i]);
        for (int i = 1; i <= triangulation_->NbTriangles(); ++i) cut_triangle(i);
        join_pieces();
        return std::move(set_);
    }

  private:
    /// The mesh is made on a copy, so that the caller's shape stays as it is.
    void mesh(double tolerance) {
        BRepBuilderAPI_Copy copier(face_.shape, Standard_True, Standard_False);
        copy_ = TopoDS::Face(copier.Shape().Oriented(TopAbs_FORWARD));
        IMeshTools_Parameters parameters;
        parameters.Deflection = deflection_share * tolerance;
        parameters.Angle = largest_turn;
        // A triangle that is smaller than the tolerance brings nothing; left to itself, the kernel
        // makes them by the million.
        parameters.MinSize = tolerance;
        BRepMesh_IncrementalMesh(copy_, parameters);
        TopLoc_Location location;
        triangulation_ = BRep_Tool::Triangulation(copy_, location);
        if (triangulation_.IsNull() || !triangulation_->HasUVNodes())
            fail_on_mesh(
                "its folds can't be followed and the kernel can't mesh it; repair the face");
        for (TopExp_Explorer it(copy_, TopAbs_EDGE); it.More(); it.Next()) {
            const TopAbs_Orientation way = it.Current().Orientation();
            if (way != TopAbs_FORWARD && way != TopAbs_REVERSED) continue;
            const TopoDS_Edge& edge = TopoDS::Edge(it.Current());
            polygons_.push_back(BRep_Tool::PolygonOnTriangulation(edge, triangulation_, location));
        }
        if (polygons_.size() != face_.uses.size())
            fail_on_mesh("its mesh has other edges than itself");
    }

    Point2 uv(int node) const { return model::from_kernel(triangulation_->UVNode(node)); }
    bool positive(int node) const { return values_[static_cast<std::size_t>(node - 1)] > 0.0; }

    /// Stretches of one edge where the field is positive, and the crossings on its polygon.
    void walk_use(const solid::EdgeUse& use, const Handle(Poly_PolygonOnTriangulation) & polygon) {
        if (polygon.IsNull() || polygon->Parameters().IsNull())
            fail_on_mesh("its mesh does not follow one of its edges");
        const solid::GraphEdge& edge = graph_.edges[static_cast<std::size_t>(use.edge)];
        const TColStd_Array1OfInteger& nodes = polygon->Nodes();
        const TColStd_Array1OfReal& at = polygon->Parameters()->Array1();
        const int weight = use.along == (face_.outward > 0) ? 1 : -1;
        double from = at.First();
        for (int i = nodes.Lower(); i < nodes.Upper(); ++i) {
            const int a = nodes(i), b = nodes(i + 1);
            if (a == b || positive(a) == positive(b)) continue;
            const double share = zero_between(a, b);
            const double t = at(i) + (at(i + 1) - at(i)) * share;
            const int node = edge.degenerate()
                                 ? vertex_nodes_[static_cast<std::size_t>(edge.start_vertex)]
                                 : node_at_(use.edge, t);
            const SideCrossing crossing{node, uv(a) + share * (uv(b) - uv(a))};
            crossings_.insert_or_assign(side_of(a, b), crossing);
            if (positive(a) && !edge.degenerate())
                set_.stretches.push_back({use.edge, from, t, weight});
            from = t;
        }
        if (positive(nodes(nodes.Upper())) && !edge.degenerate())
            set_.stretches.push_back({use.edge, from, at.Last(), weight});
    }

    /// Parameters of the place between two nodes at which the field changes its sign.
    Point2 between(int a, int b) const { return uv(a) + zero_between(a, b) * (uv(b) - uv(a)); }

    /// Share of the way from node a to node b at which the field changes its sign.
    double zero_between(int a, int b) const {
        const Point2 start = uv(a), way = uv(b) - uv(a);
        return detail::bisected_place(0.0, 1.0, 60, [&](double share) {
            return (field_.value(start + share * way) > 0.0) == positive(a);
        });
    }

    void note_crossing(int a, int b) {
        const auto [place, is_new] = crossings_.try_emplace(side_of(a, b));
        if (!is_new) return;
        // Always from the lower node, so that both triangles find the same point. It gets no node
        // of its own: it lies inside a chain.
        place->second.uv = between(place->first.first, place->first.second);
    }

    /// In a triangle a, b, c (counter-clockwise in u, v) with one node on its own side of zero, the
    /// zero set runs from one of that node's two sides to the other, positive on the left.
    void cut_triangle(int index) {
        std::array<int, 3> n{};
        triangulation_->Triangle(index).Get(n[0], n[1], n[2]);
        if (cross(uv(n[1]) - uv(n[0]), uv(n[2]) - uv(n[0])) < 0.0) std::swap(n[1], n[2]);
        for (std::size_t i = 0; i < 3; ++i) {
            const int lone = n[i], next = n[(i + 1) % 3], last = n[(i + 2) % 3];
            if (positive(lone) == positive(next) || positive(lone) == positive(last)) continue;
            const TriangleSide ahead = side_of(lone, next), behind = side_of(last, lone);
            note_crossing(lone, next);
            note_crossing(last, lone);
            // Counter-clockwise about the positive part, seen from outside.
            const bool forward = positive(lone) == (face_.outward > 0);
            next_[forward ? ahead : behind] = forward ? behind : ahead;
        }
    }

    /// Pieces of neighbouring triangles run on from one to the next: each side that is crossed
    /// inside the face ends one piece and starts another.
    void join_pieces() {
        std::set<TriangleSide> ends;
        for (const auto& [start, end] : next_) ends.insert(end);
        std::vector<TriangleSide> starts;
        for (const auto& [start, end] : next_)
            if (ends.count(start) == 0) starts.push_back(start);
        for (const TriangleSide& start : starts) follow(start);
        while (!next_.empty()) follow(next_.begin()->first);  // loops
    }

    void follow(const TriangleSide& start) {
        std::vector<TriangleSide> chain = {start};
        for (auto piece = next_.find(start); piece != next_.end();
             piece = next_.find(chain.back())) {
            chain.push_back(piece->second);
            next_.erase(piece);
        }
        const ZeroSet zero_set(field_, along_fold);
        std::vector<Point2> path;
        for (const TriangleSide& side : chain)
            path.push_back(zero_set.scale(crossings_.at(side).uv));
        set_.curves.push_back({fit_path(zero_set, path, tolerance_),
                               crossings_.at(chain.front()).node,
                               crossings_.at(chain.back()).node});
    }

    const solid::GraphFace& face_;
    const LevelField& field_;
    const solid::ShapeGraph& graph_;
    const std::vector<int>& vertex_nodes_;
    const std::function<int(int, double)>& node_at_;
    double tolerance_;
    TopoDS_Face copy_;
    Handle(Poly_Triangulation) triangulation_;
    std::vector<Handle(Poly_PolygonOnTriangulation)> polygons_;
    std::vector<double> values_;
    std::map<TriangleSide, SideCrossing> crossings_;
    std::map<TriangleSide, TriangleSide>
        next_;  ///< pieces of the zero set in triangles, from side to side
    MeshLevelSet set_;
};

}  // namespace

MeshLevelSet follow_folds_on_mesh(const solid::GraphFace& face, const LevelField& field,
                                  const solid::ShapeGraph& graph,
                                  const std::vector<int>& vertex_nodes,
                                  const std::function<int(int edge, double t)>& node_at,
                                  double tolerance) {
    return MeshFollower(face, field, graph, vertex_nodes, node_at, tolerance).run();
}

}  // namespace planform::flatten
