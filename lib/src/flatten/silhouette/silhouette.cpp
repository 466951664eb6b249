#include "flatten/silhouette/silhouette.hpp"

#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "flatten/collect/attempt.hpp"
#include "flatten/collect/edge_coverage.hpp"
#include "flatten/collect/named_errors.hpp"
#include "flatten/collect/outline.hpp"
#include "flatten/proof/face_ledger.hpp"
#include "flatten/proof/surface_extent.hpp"
#include "flatten/proof/surface_places.hpp"
#include "flatten/silhouette/face_width.hpp"
#include "flatten/silhouette/facing_boundary.hpp"
#include "flatten/zero_sets/level_curves.hpp"
#include "flatten/zero_sets/mesh_level_set.hpp"
#include "planform/error.hpp"
#include "solid/shape_graph.hpp"

namespace planform::flatten {
namespace {

/// Collects the boundaries of the parts of one solid's faces that look at the viewer. Along an edge
/// between two such parts they cancel; what stays, with the folds, is all that needs arranging, and
/// the winding number of a point is the number of front-facing sheets over it.
class Silhouette {
  public:
    Silhouette(solid::ShapeGraph& graph, const model::AreaVectors& areas, const SilhouetteWay& way,
               Outline& outline)
        : graph_(graph),
          way_(way),
          outline_(outline),
          first_curve_(outline.curve_count()),
          seen_(graph.edges.size(), 0) {
        if (!way.tampering || way.tampering->is_watched())
            ledger_.emplace(areas, graph, way.takes_part, way.tolerance);
        coverage_.reserve(graph.edges.size());
        for (const solid::GraphEdge& edge : graph.edges) coverage_.emplace_back(edge);
    }

    void run() {
        for (std::size_t i = 0; i < graph_.faces.size(); ++i) {
            const solid::GraphFace& face = graph_.faces[i];
            if (way_.takes_part && !way_.takes_part(face)) continue;
            if (way_.tampering && way_.tampering->forgets(face.number)) continue;
            in_face(face.number, [&] { add_face(i, face); });
        }
        for (std::size_t i = 0; i < graph_.edges.size(); ++i) {
            if (!coverage_[i].is_used()) continue;
            read_edge(static_cast<int>(i));
            const int number = graph_.edges[i].number;
            for (int times = way_.tampering ? way_.tampering->times(number) : 1; times > 0; --times)
                coverage_[i].emit(way_.tolerance, {Provenance::Kind::edge, way_.solid, number},
                                  outline_);
        }
        if (!ledger_) return;
        if (way_.verify == Verify::full) add_places_on_all_edges();
        ledger_->check_sum(outline_, first_curve_);
        outline_.add_proof(ledger_->proof());
    }

  private:
    /// Of the tolerance: a free-form face narrower than this on the datum is left out.
    static constexpr double narrow_share = 0.1;

    /// Most places along an edge that the law of cover asks about, quick and in full.
    static constexpr int few = 24, many = 1024;
    /// Places a side of the grid inside a curved face, in full.
    static constexpr int inner = 6;

    void add_places_on_all_edges() {
        for (const solid::GraphFace& face : graph_.faces) {
            if (way_.takes_part && !way_.takes_part(face)) continue;
            for (const solid::EdgeUse& use : face.uses) read_edge(use.edge);
            add_edge_places(graph_, face, way_.solid, many, seen_, outline_.places());
        }
    }

    /// Reads an edge and gives it its nodes.
    void read_edge(int index) {
        const solid::GraphEdge& edge = graph_.edges[static_cast<std::size_t>(index)];
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

    void add_face(std::size_t place, const solid::GraphFace& face) {
        if (const std::optional<double> facing = solid::plane_facing(face, graph_.placement)) {
            // Where the plane's own normal is at odds with its boundary, the boundary counts: it is
            // what the face has in common with its neighbours.
            if (!take_whole(place, face, *facing >= edge_on ? Facing::viewer : Facing::away))
                take_whole(place, face, ledger_->area(place) > 0.0 ? Facing::viewer : Facing::away);
            return;
        }
        const bool doubted = way_.doubted.contains(face.number);
        if (!doubted && solid::is_upright_cylinder(face, graph_.placement, edge_on) &&
            take_whole(place, face, Facing::edge_on))
            return;
        const solid::FaceSurface surface(face, graph_.placement);
        graph_.faces[place].boundary = surface.shared_boundary();
        if (way_.verify == Verify::full)
            add_inner_places(surface, face.number, way_.solid, inner, outline_.places());
        const FacingField field(surface, face.outward);
        const std::optional<Facing> facing = facing_of_whole(field);
        if (facing && !doubted && take_whole(place, face, *facing)) return;
        if (surface.is_plane()) {
            // With limits of its own, else as above: there is nothing to split.
            if (!ledger_ || !take_whole(place, face,
                                        ledger_->area(place) > 0.0 ? Facing::viewer : Facing::away))
                take_whole(place, face, *facing);
            return;
        }
        for (const solid::EdgeUse& use : face.uses) read_edge(use.edge);
        std::optional<Setback> on_surface;
        const auto on_mesh = [&] { return split_on_mesh(place, face, field); };
        if ((!doubted && split(place, face, field, on_surface)) ||
            (on_surface ? on_surface->otherwise(on_mesh) : on_mesh())) {
            if (ledger_ && way_.verify == Verify::quick)
                add_edge_places(graph_, face, way_.solid, few, seen_, outline_.places());
            return;
        }
        throw GeometryError(
            ErrorKind::law_broken,
            "no way of splitting it at its folds agrees with the area that its "
            "boundary encloses; repair the face where the solid was drawn" +
                (on_surface ? " (on its surface: " + on_surface->cause() + ")" : std::string()));
    }

    /// What the engine says of a face that needs no splitting.
    std::optional<Facing> facing_of_whole(const FacingField& field) const {
        if (field.is_edge_on()) return Facing::edge_on;
        if (field.surface().is_plane())  // a plane with limits of its own
            return field.value(Point2::Zero()) > 0.0 ? Facing::viewer : Facing::away;
        switch (field.sign_of_whole()) {
            case FacingField::Sign::positive:
                return Facing::viewer;
            case FacingField::Sign::negative:
                return Facing::away;
            case FacingField::Sign::unknown:
                break;
        }
        // Seen edge-on but for noise, as blends between walls are: like a wall it bounds nothing.
        if (is_narrower_on_datum(field.surface(), narrow_share * way_.tolerance))
            return Facing::edge_on;
        return std::nullopt;
    }

    /// False if the face's area says otherwise.
    bool take_whole(std::size_t place, const solid::GraphFace& face, Facing facing) {
        if (way_.tampering) facing = way_.tampering->facing(face.number, facing);
        if (ledger_ && !ledger_->enter_whole(place, facing)) return false;
        if (facing == Facing::viewer) cover_whole(face);
        return true;
    }

    /// At its folds, followed on the surface. False if they can't be followed, for what `setback`
    /// says then, or break the law.
    bool split(std::size_t place, const solid::GraphFace& face, const FacingField& field,
               std::optional<Setback>& setback) {
        bool taken = false;
        setback = attempt([&] {
            FacingParts parts = FacingBoundary(face, field, graph_, vertex_nodes_, coverage_,
                                               outline_, way_.tolerance)
                                    .run();
            std::vector<LevelCurve> folds = level_curves(field, parts.roots, way_.tolerance);
            taken = take(place, face, field.surface(), parts.stretches, folds);
        });
        return taken;
    }

    /// Where the folds can't be followed on the surface, they are followed on its triangles.
    bool split_on_mesh(std::size_t place, const solid::GraphFace& face, const FacingField& field) {
        MeshLevelSet set = follow_folds_on_mesh(
            face, field, graph_, vertex_nodes_,
            [&](int edge, double t) { return node_at(edge, t); }, way_.tolerance);
        if (!take(place, face, field.surface(), set.stretches, set.curves)) return false;
        outline_.add_note(
            "face " + std::to_string(face.number) +
            ": its folds were followed from triangle to triangle of a mesh, within tolerance");
        // A mesh passes over what bends between its nodes.
        if (ledger_)
            add_places_in_spans(field.surface(), face.number, way_.solid, outline_.places());
        return true;
    }

    bool take(std::size_t place, const solid::GraphFace& face, const solid::FaceSurface& surface,
              std::vector<EdgeStretch>& stretches, std::vector<LevelCurve>& folds) {
        if (way_.tampering)
            way_.tampering->parts(face.number, stretches, folds,
                                  [&](int edge, double t) { return node_at(edge, t); });
        if (ledger_ && !ledger_->enter_split(
                           place, stretches, folds, outline_,
                           [&](Sampling sampling) { return extent_within_box(surface, sampling); }))
            return false;
        for (const EdgeStretch& stretch : stretches)
            coverage_[static_cast<std::size_t>(stretch.edge)].add(stretch);
        for (const LevelCurve& fold : folds)
            outline_.add(fold.curves, fold.start_node, fold.end_node, 1,
                         {Provenance::Kind::fold, way_.solid, face.number}, fold.place);
        return true;
    }

    int node_at(int edge, double t) {
        return coverage_[static_cast<std::size_t>(edge)].node_at(t, outline_);
    }

    void cover_whole(const solid::GraphFace& face) {
        for (const solid::EdgeUse& use : face.uses)
            coverage_[static_cast<std::size_t>(use.edge)].add_whole(
                use.along == (face.outward > 0) ? 1 : -1);
    }

    solid::ShapeGraph& graph_;
    const SilhouetteWay& way_;
    Outline& outline_;
    std::size_t first_curve_;
    std::vector<char> seen_;            ///< by edge: the law of cover asks about its places
    std::optional<FaceLedger> ledger_;  ///< none: the laws are not asked
    std::vector<int> vertex_nodes_;
    std::vector<EdgeCoverage> coverage_;
};

}  // namespace

void add_silhouette(solid::ShapeGraph& graph, const model::AreaVectors& areas,
                    const SilhouetteWay& way, Outline& outline) {
    Silhouette(graph, areas, way, outline).run();
}

}  // namespace planform::flatten
