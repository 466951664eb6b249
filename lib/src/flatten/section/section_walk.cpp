#include "flatten/section/section_walk.hpp"

#include <Geom_Line.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>

#include "flatten/curves/sign_scan.hpp"
#include "planform/error.hpp"
#include "solid/boundary_walk.hpp"

namespace planform::flatten {
namespace {

/// How far beside an edge in the plane the face is looked at, as shares of its parameter box: the
/// first place that leaves the plane tells the side.
constexpr double looks[] = {1e-5, 1e-4, 1e-3, 1e-2};
/// Samples along an edge in the plane for changes of side of the face beside it.
constexpr int side_samples = 16;

}  // namespace

UseCurve::UseCurve(const solid::GraphFace& face, const solid::EdgeUse& use,
                   const solid::ShapeGraph& graph, const solid::FaceSurface& surface)
    : edge_(graph.edges[static_cast<std::size_t>(use.edge)]),
      surface_(surface),
      first_(edge_.first),
      last_(edge_.last) {
    if (surface.is_plane()) return;
    // Those of the surface: curves that lie a period apart are brought together there.
    const solid::ParameterCurve& side =
        surface.boundary()[static_cast<std::size_t>(&use - face.uses.data())];
    if (side.curve.IsNull())
        throw GeometryError(ErrorKind::face_not_flattened,
                            "an edge has no curve in the face's parameters");
    first_ = side.first;
    last_ = side.last;
    curve_.emplace(side.curve, surface, use.along);
}

Point2 UseCurve::on(double t) const {
    if (curve_) return curve_->on(t);
    const Vector3 p = edge_.point(t) - surface_.origin();
    return {p.dot(surface_.x()), p.dot(surface_.y())};
}

Point2 UseCurve::inside(double t) const { return curve_ ? curve_->inside(t) : on(t); }

Point2 UseCurve::inside(double t, double share) const {
    if (!curve_) return on(t);
    const Point2 at = curve_->on(t);
    return at + share / solid::InsetCurve::inset * (curve_->inside(t) - at);
}

double UseCurve::margin(double t) const { return curve_ ? curve_->margin(t) : 0.0; }

bool starts_curve(const EdgeRoot& root, const solid::GraphFace& face, const solid::EdgeUse& use) {
    const bool runs_with_parameter = use.along == (face.outward > 0);
    return root.rises != runs_with_parameter;
}

SectionWalk::SectionWalk(const solid::GraphFace& face, const HeightField& field,
                         const solid::ShapeGraph& graph, PlaneCut& cut, Outline& outline)
    : face_(face), field_(field), graph_(graph), cut_(cut), outline_(outline) {}

void SectionWalk::run() {
    std::vector<Use> all;
    for (const solid::EdgeUse& use : face_.uses) {
        const solid::GraphEdge& edge = edge_of(use);
        Use found{&use,
                  false,
                  false,
                  {},
                  {},
                  {},
                  {},
                  use.along == (face_.outward > 0),
                  edge.start_vertex,
                  edge.end_vertex};
        const UseCurve curve(face_, use, graph_, field_.surface());
        place_ends(curve, found);
        if (!cut_.edge(use.edge).lies_in_plane)
            across(curve, found);
        else if (field_.surface().is_plane())
            along_plane_straight(found);
        else
            along_plane(curve, found);
        all.push_back(found);
    }
    add_corners(all);
}

void SectionWalk::place_ends(const UseCurve& curve, Use& found) const {
    const double length = curve.last() - curve.first();
    const auto inner = [&](double t) { return std::min(curve.margin(t), largest_margin * length); };
    found.start_uv = curve.on(curve.first());
    found.end_uv = curve.on(curve.last());
    found.start_inside = curve.inside(curve.first() + inner(curve.first()));
    found.end_inside = curve.inside(curve.last() - inner(curve.last()));
}

/// Roots in the vertices become changes of sign at the corners.
void SectionWalk::across(const UseCurve& curve, Use& found) {
    const EdgeCut& edge = cut_.edge(found.use->edge);
    found.starts_above = edge.starts_above;
    found.ends_above = edge.ends_above;
    for (const EdgeRoot& root : edge.roots) {
        if (root.at_vertex < 0)
            found.starts_above = root.rises;
        else if (root.at_vertex > 0)
            found.ends_above = !root.rises;
        else
            roots_.push_back({starts_curve(root, face_, *found.use), root.node, curve.on(root.at),
                              curve.just_inside(root.at)});
    }
}

/// A slanted plane face falls to one side all along.
void SectionWalk::along_plane_straight(Use& found) {
    const solid::GraphEdge& edge = edge_of(*found.use);
    const solid::FaceSurface& s = field_.surface();
    const Vector3 tangent = edge.point(edge.last) - edge.point(edge.first);
    const Vector3 normal = s.handed() * s.z();
    const double rise = (found.use->along ? 1.0 : -1.0) * normal.cross(tangent).z();
    found.starts_above = found.ends_above = rise > 0.0;
    if (found.starts_above != cut_.plane_is_above()) add_stretch(found, edge.first, edge.last);
}

bool SectionWalk::above_beside(const UseCurve& curve, double t) const {
    // Where the face only touches the plane, as along one generator of a cone, the places next to
    // it decide.
    const double length = curve.last() - curve.first();
    for (const double aside : {0.0, 1e-3, -1e-3, 1e-2, -1e-2, 0.1, -0.1}) {
        const double at = t + aside * length;
        if (at < curve.first() || at > curve.last()) continue;
        for (const double share : looks) {
            const double height = field_.value(curve.inside(at, share));
            if (std::abs(height) > in_plane) return height > 0.0;
        }
    }
    return cut_.plane_is_above();
}

void SectionWalk::along_plane(const UseCurve& curve, Use& found) {
    const solid::GraphEdge& edge = edge_of(*found.use);
    const double length = curve.last() - curve.first();
    const double start =
        curve.first() + std::min(curve.margin(curve.first()), largest_margin * length);
    const double end = curve.last() - std::min(curve.margin(curve.last()), largest_margin * length);
    const SignScan scan = scan_sign([&](double t) { return above_beside(curve, t) ? 1.0 : -1.0; },
                                    start, end, side_samples);
    found.starts_above = scan.starts_positive;
    found.ends_above = scan.ends_positive;
    bool above = scan.starts_positive;
    double from = edge.first;
    for (const double at : scan.roots) {
        const bool rises = !above;
        const int node = edge.degenerate() ? cut_.vertex_node(edge.start_vertex)
                                           : outline_.free_node(edge.point(at).head<2>());
        const EdgeRoot root{at, rises, node, 0};
        roots_.push_back(
            {starts_curve(root, face_, *found.use), node, curve.on(at), curve.inside(at)});
        if (above != cut_.plane_is_above()) add_stretch(found, from, at);
        from = at;
        above = !above;
    }
    if (above != cut_.plane_is_above()) add_stretch(found, from, edge.last);
}

/// The section has its upper side on the left: above an edge whose face falls away it runs against
/// the boundary walk, below one whose face rises along it.
void SectionWalk::add_stretch(const Use& use, double from, double to) {
    if (edge_of(*use.use).degenerate()) return;
    const int along_walk = cut_.plane_is_above() ? -1 : 1;
    stretches_.push_back(
        {use.use->edge, from, to, use.runs_with_parameter ? along_walk : -along_walk});
}

void SectionWalk::add_corners(const std::vector<Use>& all) {
    const Vector2 range = field_.surface().is_plane()
                              ? Vector2(1.0, 1.0)
                              : Vector2(field_.surface().range().cwiseMax(1e-300));
    std::vector<solid::WalkedUse> walked;
    for (const Use& use : all) {
        const solid::WalkEnd start{use.start_vertex, use.start_uv}, end{use.end_vertex, use.end_uv};
        walked.push_back(use.runs_with_parameter ? solid::WalkedUse{start, end}
                                                 : solid::WalkedUse{end, start});
    }
    const std::vector<std::size_t> next = solid::next_in_walk(walked, range);
    for (std::size_t i = 0; i < all.size(); ++i) {
        const Use &here = all[i], &after = all[next[i]];
        const bool leaves_above = here.runs_with_parameter ? here.ends_above : here.starts_above;
        const bool goes_on_above =
            after.runs_with_parameter ? after.starts_above : after.ends_above;
        if (leaves_above == goes_on_above) continue;
        roots_.push_back({leaves_above, cut_.vertex_node(walked[i].exit.vertex), walked[i].exit.uv,
                          here.runs_with_parameter ? here.end_inside : here.start_inside});
    }
}

}  // namespace planform::flatten
