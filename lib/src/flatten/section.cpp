#include <BRep_Tool.hxx>
#include <Geom2d_Curve.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_Line.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>

#include "flatten/edge_coverage.hpp"
#include "flatten/inset_curve.hpp"
#include "flatten/level_curves.hpp"
#include "flatten/outline.hpp"
#include "flatten/shape_graph.hpp"
#include "flatten/sign_scan.hpp"
#include "flatten/solid_outline.hpp"
#include "planform/error.hpp"

namespace planform::flatten {
namespace {

/// Where an edge passes through the plane.
struct EdgeRoot {
    double at;
    bool rises;  ///< along the edge the height turns from - to +
    int node;
};

/// Collects the curves in which the faces of one solid meet the plane of height 0. Roots belong to
/// edges, so that two faces that share an edge share its roots: the curves close by construction.
class Section {
  public:
    Section(const ShapeGraph& graph, int solid, double tolerance, Outline& outline)
        : graph_(graph), solid_(solid), tolerance_(tolerance), outline_(outline) {}

    void run() {
        for (const GraphEdge& edge : graph_.edges) roots_.push_back(find_roots(edge));
        for (const GraphFace& face : graph_.faces) in_face(face.number, [&] { add_face(face); });
    }

  private:
    static int sample_count(const GraphEdge& edge) {
        if (edge.curve->IsKind(STANDARD_TYPE(Geom_Line))) return 1;
        const auto spline = Handle(Geom_BSplineCurve)::DownCast(edge.curve);
        return spline.IsNull() ? 16 : std::clamp(4 * spline->NbPoles(), 16, 256);
    }

    std::vector<EdgeRoot> find_roots(const GraphEdge& edge) {
        if (edge.degenerate()) return {};
        const SignScan scan = scan_sign([&](double t) { return edge.point(t).z(); }, edge.first,
                                        edge.last, std::max(2, sample_count(edge)));
        std::vector<EdgeRoot> roots;
        bool positive = scan.starts_positive;
        for (const double at : scan.roots) {
            roots.push_back({at, !positive, outline_.add_node(edge.point(at).head<2>())});
            positive = !positive;
        }
        return roots;
    }

    void add_face(const GraphFace& face) {
        std::vector<BoundaryRoot> roots;
        bool reaches = false;
        for (const EdgeUse& use : face.uses) {
            const auto& on_edge = roots_[static_cast<std::size_t>(use.edge)];
            reaches = reaches || !on_edge.empty();
        }
        const FaceSurface surface(face, graph_.placement);
        if (!reaches && surface.kind() == GeomAbs_Plane) return;
        for (const EdgeUse& use : face.uses) add_roots(face, surface, use, roots);
        const HeightField field(surface, face.outward);
        for (const LevelCurve& curve : level_curves(field, roots, tolerance_))
            outline_.add(curve.curves, curve.start_node, curve.end_node, 1,
                         {Provenance::Kind::section, solid_, face.number});
    }

    void add_roots(const GraphFace& face, const FaceSurface& surface, const EdgeUse& use,
                   std::vector<BoundaryRoot>& roots) const {
        const auto& on_edge = roots_[static_cast<std::size_t>(use.edge)];
        if (on_edge.empty()) return;
        const GraphEdge& edge = graph_.edges[static_cast<std::size_t>(use.edge)];
        const bool runs_with_parameter = use.along == (face.outward > 0);
        for (const EdgeRoot& root : on_edge) {
            // Along the boundary walk + turns into - where a section curve starts.
            BoundaryRoot found{root.rises != runs_with_parameter, root.node, {}, {}};
            if (surface.kind() == GeomAbs_Plane) {
                const Vector3 p = edge.point(root.at) - surface.origin();
                found.uv = found.inner_uv = {p.dot(surface.x()), p.dot(surface.y())};
            } else {
                set_parameters(face, surface, use, root.at, found);
            }
            roots.push_back(found);
        }
    }

    static void set_parameters(const GraphFace& face, const FaceSurface& surface,
                               const EdgeUse& use, double t, BoundaryRoot& root) {
        double first, last;
        const Handle(Geom2d_Curve) pcurve =
            BRep_Tool::CurveOnSurface(use.shape, face.shape, first, last);
        if (pcurve.IsNull())
            throw GeometryError(ErrorKind::face_not_flattened,
                                "an edge has no curve in the face's parameters");
        const InsetCurve curve(pcurve, surface, use.along);
        root.uv = curve.on(t);
        root.inner_uv = curve.inside(t);
    }

    const ShapeGraph& graph_;
    int solid_;
    double tolerance_;
    Outline& outline_;
    std::vector<std::vector<EdgeRoot>> roots_;
};

}  // namespace

void add_section(const ShapeGraph& graph, int solid, double tolerance, Outline& outline) {
    Section(graph, solid, tolerance, outline).run();
}

}  // namespace planform::flatten
