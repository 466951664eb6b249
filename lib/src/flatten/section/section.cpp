#include "flatten/section/section.hpp"

#include <BRep_Tool.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <string>

#include "flatten/collect/attempt.hpp"
#include "flatten/collect/named_errors.hpp"
#include "flatten/collect/outline.hpp"
#include "flatten/curves/projected_curve.hpp"
#include "flatten/section/section_walk.hpp"
#include "flatten/zero_sets/level_curves.hpp"
#include "flatten/zero_sets/mesh_level_set.hpp"
#include "flatten/zero_sets/plane_cut.hpp"
#include "planform/error.hpp"

namespace planform::flatten {
namespace {

/// Collects the curves in which the faces of one solid meet one plane.
class Section {
  public:
    Section(const solid::SectionSolid& solid, const SectionPlane& plane, int index,
            double tolerance, Outline& outline)
        : solid_(solid),
          graph_(solid.graph()),
          cut_(solid, plane.level, plane.side, outline),
          index_(index),
          meshed_face_(plane.meshed_face),
          tolerance_(tolerance),
          outline_(outline) {}

    void run() {
        for (std::size_t i = 0; i < graph_.faces.size(); ++i) {
            if (!solid_.face_range(i).meets(cut_.level(), in_plane)) continue;
            in_face(graph_.faces[i].number, [&] { add_face(i); });
        }
    }

  private:
    void add_face(std::size_t index) {
        if (cut_.face_in_plane(index)) return;
        const solid::GraphFace& face = graph_.faces[index];
        bool reaches = false, lies_in_plane = false;
        for (const solid::EdgeUse& use : face.uses) {
            const EdgeCut& edge = cut_.edge(use.edge);
            reaches = reaches || !edge.roots.empty() || edge.lies_in_plane;
            lies_in_plane = lies_in_plane || edge.lies_in_plane || touches_vertex(use);
        }
        const solid::FaceSurface& surface = solid_.surface(index);
        if (!reaches && is_ruled(surface)) return;
        const HeightField field(surface, face.outward, cut_.level());
        std::vector<BoundaryRoot> roots;
        if (lies_in_plane) {
            SectionWalk walk(face, field, graph_, cut_, outline_);
            walk.run();
            for (const EdgeStretch& stretch : walk.stretches()) add_stretch(stretch);
            roots = walk.roots();
        } else {
            for (const solid::EdgeUse& use : face.uses) add_roots(face, surface, use, roots);
        }
        if (roots.empty() && is_ruled(surface)) return;
        take(face,
             curves_of(face, field, roots, lies_in_plane ? PlaneEdges::some : PlaneEdges::none));
    }

    std::vector<LevelCurve> curves_of(const solid::GraphFace& face, const HeightField& field,
                                      const std::vector<BoundaryRoot>& roots, PlaneEdges edges) {
        const bool is_plane = field.surface().is_plane();
        const bool is_doubted =
            meshed_face_ >= 0 && &face == &graph_.faces[static_cast<std::size_t>(meshed_face_)];
        if (is_doubted && !is_plane) return follow_on_mesh(face, field);
        std::vector<LevelCurve> curves;
        const std::optional<Setback> on_surface =
            attempt([&] { curves = level_curves(field, roots, edges, tolerance_); });
        if (!on_surface) return curves;
        if (is_plane) on_surface->raise();
        return on_surface->otherwise([&] { return follow_on_mesh(face, field); });
    }

    /// Where the section can't be followed on the surface, it is followed on its triangles.
    std::vector<LevelCurve> follow_on_mesh(const solid::GraphFace& face, const HeightField& field) {
        std::vector<int> vertex_nodes;
        for (std::size_t i = 0; i < graph_.vertices.size(); ++i)
            vertex_nodes.push_back(cut_.vertex_node(static_cast<int>(i)));
        const auto node_at = [&](int edge, double t) { return nearest_node(edge, t); };
        const MeshLevelSet set =
            follow_folds_on_mesh(face, field, graph_, vertex_nodes, node_at, tolerance_);
        outline_.add_note(
            "face " + std::to_string(face.number) +
            ": its section was followed on a mesh, as straight pieces within tolerance");
        return set.curves;
    }

    int nearest_node(int edge, double t) const {
        const std::vector<EdgeRoot>& roots = cut_.edge(edge).roots;
        const auto best = std::min_element(
            roots.begin(), roots.end(),
            [t](const auto& a, const auto& b) { return std::abs(a.at - t) < std::abs(b.at - t); });
        if (best == roots.end())
            throw GeometryError(ErrorKind::face_not_flattened,
                                "its section can't be followed; repair the face");
        return best->node;
    }

    void take(const solid::GraphFace& face, const std::vector<LevelCurve>& curves) {
        for (const LevelCurve& curve : curves)
            outline_.add(curve.curves, curve.start_node, curve.end_node, 1,
                         {Provenance::Kind::section, index_, face.number}, curve.place);
    }

    bool touches_vertex(const solid::EdgeUse& use) const {
        const solid::GraphEdge& edge = graph_.edges[static_cast<std::size_t>(use.edge)];
        return cut_.vertex_in_plane(edge.start_vertex) || cut_.vertex_in_plane(edge.end_vertex);
    }

    /// Nothing of such a surface can be cut but its boundary is.
    static bool is_ruled(const solid::FaceSurface& surface) {
        return surface.is_ruled() && surface.is_closed_form();
    }

    void add_stretch(const EdgeStretch& stretch) {
        const solid::GraphEdge& edge = graph_.edges[static_cast<std::size_t>(stretch.edge)];
        const auto node = [&](double t, int vertex) {
            return t == edge.first || t == edge.last ? cut_.vertex_node(vertex) : -1;
        };
        outline_.add(project_edge(edge, stretch.from, stretch.to, tolerance_),
                     node(stretch.from, edge.start_vertex), node(stretch.to, edge.end_vertex),
                     stretch.weight, {Provenance::Kind::edge, index_, edge.number});
    }

    void add_roots(const solid::GraphFace& face, const solid::FaceSurface& surface,
                   const solid::EdgeUse& use, std::vector<BoundaryRoot>& roots) const {
        const std::vector<EdgeRoot>& on_edge = cut_.edge(use.edge).roots;
        if (on_edge.empty()) return;
        const UseCurve curve(face, use, graph_, surface);
        for (const EdgeRoot& root : on_edge)
            roots.push_back({starts_curve(root, face, use), root.node, curve.on(root.at),
                             curve.just_inside(root.at)});
    }

    const solid::SectionSolid& solid_;
    const solid::ShapeGraph& graph_;
    PlaneCut cut_;
    int index_;
    int meshed_face_;
    double tolerance_;
    Outline& outline_;
};

}  // namespace

void add_section(const solid::SectionSolid& solid, const SectionPlane& plane, int index,
                 double tolerance, Outline& outline) {
    Section(solid, plane, index, tolerance, outline).run();
}

}  // namespace planform::flatten
