#include <cmath>
#include <cstddef>
#include <optional>
#include <string>

#include "flatten/edge_coverage.hpp"
#include "flatten/face_width.hpp"
#include "flatten/facing_boundary.hpp"
#include "flatten/level_curves.hpp"
#include "flatten/mesh_level_set.hpp"
#include "flatten/outline.hpp"
#include "flatten/shape_graph.hpp"
#include "flatten/solid_outline.hpp"
#include "planform/error.hpp"

namespace planform::flatten {
namespace {

/// Collects the boundaries of the parts of one solid's faces that look at the viewer. Along an edge
/// between two such parts they cancel; what stays, with the folds, is all that needs arranging, and
/// the winding number of a point is the number of front-facing sheets over it.
class Silhouette {
  public:
    Silhouette(ShapeGraph& graph, int solid, double tolerance, Outline& outline,
               const TakesPart& takes_part)
        : graph_(graph),
          solid_(solid),
          tolerance_(tolerance),
          outline_(outline),
          takes_part_(takes_part) {
        coverage_.reserve(graph.edges.size());
        for (const GraphEdge& edge : graph.edges) coverage_.emplace_back(edge);
    }

    void run() {
        for (const GraphFace& face : graph_.faces)
            if (!takes_part_ || takes_part_(face)) in_face(face.number, [&] { add_face(face); });
        for (std::size_t i = 0; i < graph_.edges.size(); ++i) {
            if (!coverage_[i].is_used()) continue;
            read_edge(static_cast<int>(i));
            coverage_[i].emit(tolerance_, {Provenance::Kind::edge, solid_, graph_.edges[i].number},
                              outline_);
        }
    }

  private:
    /// Of the tolerance: a free-form face narrower than this on the datum is left out.
    static constexpr double narrow_share = 0.1;

    /// Reads an edge and gives it its nodes.
    void read_edge(int index) {
        const GraphEdge& edge = graph_.edges[static_cast<std::size_t>(index)];
        graph_.read_edge(index);
        while (vertex_nodes_.size() < graph_.vertices.size())
            vertex_nodes_.push_back(
                outline_.add_node(graph_.vertices[vertex_nodes_.size()].head<2>()));
        const auto node = [&](int vertex) {
            return vertex < 0 ? -1 : vertex_nodes_[static_cast<std::size_t>(vertex)];
        };
        coverage_[static_cast<std::size_t>(index)].set_nodes(node(edge.start_vertex),
                                                             node(edge.end_vertex));
    }

    void add_face(const GraphFace& face) {
        if (const std::optional<double> facing = plane_facing(face, graph_.placement)) {
            if (*facing >= FacingField::edge_on) cover_whole(face);
            return;
        }
        const FaceSurface surface(face, graph_.placement);
        const FacingField field(surface, face.outward);
        if (field.is_edge_on()) return;
        if (surface.kind() == GeomAbs_Plane) {  // a plane with limits of its own
            if (field.value(Point2::Zero()) > 0.0) cover_whole(face);
            return;
        }
        const FacingField::Sign sign = field.sign_of_whole();
        if (sign == FacingField::Sign::positive) cover_whole(face);
        if (sign != FacingField::Sign::unknown) return;
        // Seen edge-on but for noise, as blends between walls are: like a wall it bounds nothing.
        if (is_narrower_on_datum(surface, narrow_share * tolerance_)) return;
        for (const EdgeUse& use : face.uses) read_edge(use.edge);
        try {
            const FacingParts parts =
                FacingBoundary(face, field, graph_, vertex_nodes_, coverage_, outline_, tolerance_)
                    .run();
            take(face, parts.stretches, level_curves(field, parts.roots, tolerance_));
        } catch (const GeometryError&) {
            follow_on_mesh(face, field);
        }
    }

    /// Where the folds can't be followed on the surface, they are followed on its triangles.
    void follow_on_mesh(const GraphFace& face, const FacingField& field) {
        const auto node_at = [&](int edge, double t) {
            return coverage_[static_cast<std::size_t>(edge)].node_at(t, outline_);
        };
        const MeshLevelSet set =
            follow_folds_on_mesh(face, field, graph_, vertex_nodes_, node_at, tolerance_);
        take(face, set.stretches, set.curves);
        outline_.add_note(
            "face " + std::to_string(face.number) +
            ": its folds were followed from triangle to triangle of a mesh, within tolerance");
    }

    void take(const GraphFace& face, const std::vector<EdgeStretch>& stretches,
              const std::vector<LevelCurve>& curves) {
        for (const EdgeStretch& stretch : stretches)
            coverage_[static_cast<std::size_t>(stretch.edge)].add(stretch);
        for (const LevelCurve& curve : curves)
            outline_.add(curve.curves, curve.start_node, curve.end_node, 1,
                         {Provenance::Kind::fold, solid_, face.number});
    }

    void cover_whole(const GraphFace& face) {
        for (const EdgeUse& use : face.uses)
            coverage_[static_cast<std::size_t>(use.edge)].add_whole(
                use.along == (face.outward > 0) ? 1 : -1);
    }

    ShapeGraph& graph_;
    int solid_;
    double tolerance_;
    Outline& outline_;
    const TakesPart& takes_part_;
    std::vector<int> vertex_nodes_;
    std::vector<EdgeCoverage> coverage_;
};

}  // namespace

void add_silhouette(ShapeGraph& graph, int solid, double tolerance, Outline& outline,
                    const TakesPart& takes_part) {
    Silhouette(graph, solid, tolerance, outline, takes_part).run();
}

}  // namespace planform::flatten
