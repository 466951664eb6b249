#include "flatten/silhouette/facing_boundary.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <string>

#include "flatten/curves/sign_scan.hpp"
#include "flatten/silhouette/boundary_places.hpp"
#include "flatten/silhouette/strip_depth.hpp"
#include "planform/error.hpp"
#include "solid/boundary_walk.hpp"

namespace planform::flatten {
namespace {

/// A root on the boundary itself is taken if it is this near to the one inside, as a share of the
/// edge.
constexpr double polish_reach = 1e-3;

/// Near the ends of a stretch strips narrow: there a field is to be looked at closely.
void add_near_ends(ScanPlaces& places) {
    const double start = places.at.front(), end = places.at.back();
    for (const double share : {1e-4, 1e-3, 1e-2})
        for (const double at : {start + share * (end - start), end - share * (end - start)}) {
            const auto next = std::upper_bound(places.at.begin(), places.at.end(), at);
            if (next == places.at.end()) continue;
            if (!places.is_told.empty()) {
                const auto interval = places.is_told.begin() + (next - places.at.begin() - 1);
                places.is_told.insert(interval, *interval);
            }
            places.at.insert(next, at);
        }
}

}  // namespace

/// Signs along one use, in the direction of the edge's parameter.
struct FacingBoundary::UseSigns {
    const solid::EdgeUse* use;
    SignScan scan;
    std::optional<StripDepth> depth;  ///< at which the signs were taken
    Point2 start_uv, end_uv;          ///< at the first and last parameter
    Point2 start_inside, end_inside;
    double first, last;
    /// Sign and place where the boundary walk enters and leaves this use.
    bool runs_with_parameter;
    bool entry_positive() const {
        return runs_with_parameter ? scan.starts_positive : scan.ends_positive;
    }
    bool exit_positive() const {
        return runs_with_parameter ? scan.ends_positive : scan.starts_positive;
    }
    const Point2& exit_inside() const { return runs_with_parameter ? end_inside : start_inside; }
};

FacingBoundary::FacingBoundary(const solid::GraphFace& face, const FacingField& field,
                               const solid::ShapeGraph& graph, const std::vector<int>& vertex_nodes,
                               std::vector<EdgeCoverage>& coverage, Outline& outline,
                               double tolerance)
    : face_(face),
      field_(field),
      places_(field),
      graph_(graph),
      vertex_nodes_(vertex_nodes),
      coverage_(coverage),
      outline_(outline),
      tolerance_(tolerance) {}

FacingParts FacingBoundary::run() {
    std::vector<UseSigns> all;
    all.reserve(face_.uses.size());
    for (std::size_t i = 0; i < face_.uses.size(); ++i) {
        const solid::ParameterCurve& side = field_.surface().boundary()[i];
        if (side.curve.IsNull())
            throw GeometryError(
                ErrorKind::face_not_flattened,
                "edge " +
                    std::to_string(
                        graph_.edges[static_cast<std::size_t>(face_.uses[i].edge)].number) +
                    " has no curve in the face's parameters");
        const solid::InsetCurve curve(side.curve, field_.surface(), face_.uses[i].along);
        all.push_back(scan(face_.uses[i], side, curve));
        split(all.back(), curve);
    }
    add_vertex_roots(all);
    return std::move(parts_);
}

FacingBoundary::UseSigns FacingBoundary::scan(const solid::EdgeUse& use,
                                              const solid::ParameterCurve& side,
                                              const solid::InsetCurve& curve) const {
    UseSigns signs;
    signs.use = &use;
    signs.first = side.first;
    signs.last = side.last;
    // Inside the neighbouring edges as well: a fold may run along them.
    const double length = signs.last - signs.first;
    const double start = signs.first + std::min(curve.margin(signs.first), largest_margin * length);
    const double end = signs.last - std::min(curve.margin(signs.last), largest_margin * length);
    const int count = sample_count(side, field_.surface());
    signs.depth.emplace(field_, curve, start, end, count, tolerance_);
    const auto field_at = [&](double t) {
        return field_.value(curve.inside(t, (*signs.depth)(t)));
    };
    const auto depth_at = [&](double t) { return (*signs.depth)(t); };
    ScanPlaces places = places_.along(side, curve, start, end, depth_at);
    if (!signs.depth->is_least()) add_near_ends(places);
    signs.scan = scan_sign(field_at, std::move(places));
    signs.start_uv = curve.on(signs.first);
    signs.end_uv = curve.on(signs.last);
    signs.start_inside = curve.inside(start);
    signs.end_inside = curve.inside(end);
    signs.runs_with_parameter = use.along == (face_.outward > 0);
    return signs;
}

void FacingBoundary::add_stretch(const UseSigns& signs, double from, double to) {
    parts_.stretches.push_back({signs.use->edge, from, to, signs.runs_with_parameter ? 1 : -1});
}

/// The root on the boundary itself, no further away than half-way to the next one. (Where the face
/// is edge-on along it there is none.)
double FacingBoundary::polished_root(const UseSigns& signs, const solid::InsetCurve& curve,
                                     std::size_t index) const {
    const std::vector<double>& roots = signs.scan.roots;
    const double root = roots[index];
    const double first = index == 0 ? signs.first : 0.5 * (roots[index - 1] + root);
    const double last = index + 1 == roots.size() ? signs.last : 0.5 * (roots[index + 1] + root);
    return polish_root([&](double t) { return field_.value(curve.on(t)); }, root,
                       polish_reach * (signs.last - signs.first), first, last);
}

void FacingBoundary::split(const UseSigns& signs, const solid::InsetCurve& curve) {
    const solid::GraphEdge& edge = graph_.edges[static_cast<std::size_t>(signs.use->edge)];
    EdgeCoverage& coverage = coverage_[static_cast<std::size_t>(signs.use->edge)];
    bool positive = signs.scan.starts_positive;
    double from = edge.first;
    for (std::size_t i = 0; i < signs.scan.roots.size(); ++i) {
        const double root = signs.scan.roots[i];
        const double depth = (*signs.depth)(root);
        const double polished =
            depth > 2.0 * solid::InsetCurve::inset ? root : polished_root(signs, curve, i);
        const double at = edge.degenerate() ? 0.0 : polished;
        const int node = edge.degenerate()
                             ? vertex_nodes_[static_cast<std::size_t>(edge.start_vertex)]
                             : coverage.node_at(at, outline_);
        // Along the boundary walk + turns into - where a fold starts.
        const bool starts = positive == signs.runs_with_parameter;
        parts_.roots.push_back({starts, node, curve.on(polished), curve.inside(root, depth)});
        if (positive && !edge.degenerate()) add_stretch(signs, from, at);
        from = at;
        positive = !positive;
    }
    if (positive && !edge.degenerate()) add_stretch(signs, from, edge.last);
}

/// Between one use and the next the sign may change: a fold starts or ends at the vertex.
void FacingBoundary::add_vertex_roots(const std::vector<UseSigns>& all) {
    std::vector<solid::WalkedUse> walked;
    walked.reserve(all.size());
    for (const UseSigns& signs : all) {
        const solid::GraphEdge& edge = graph_.edges[static_cast<std::size_t>(signs.use->edge)];
        const solid::WalkEnd start{edge.start_vertex, signs.start_uv},
            end{edge.end_vertex, signs.end_uv};
        walked.push_back(signs.runs_with_parameter ? solid::WalkedUse{start, end}
                                                   : solid::WalkedUse{end, start});
    }
    const std::vector<std::size_t> next =
        solid::next_in_walk(walked, field_.surface().range().cwiseMax(1e-300));
    for (std::size_t i = 0; i < all.size(); ++i) {
        const bool leaves_positive = all[i].exit_positive();
        if (leaves_positive == all[next[i]].entry_positive()) continue;
        const solid::WalkEnd& exit = walked[i].exit;
        parts_.roots.push_back({leaves_positive,
                                vertex_nodes_[static_cast<std::size_t>(exit.vertex)], exit.uv,
                                all[i].exit_inside()});
    }
}

}  // namespace planform::flatten
