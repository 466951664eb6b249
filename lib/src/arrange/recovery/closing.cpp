#include "arrange/recovery/closing.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <utility>

namespace planform::arrange {
namespace {

/// Ends of arcs that are no further apart (in cells) are rounding of their own angles.
constexpr double rounding = 1e-3;
/// In a loop so small that the cells are coarse for it, they are none unless they are below this
/// share of its size.
constexpr double rounding_per_size = 1e-7;

bool takes_ends(const Curve& curve) {
    return std::holds_alternative<Line>(curve) || std::holds_alternative<Spline>(curve);
}

bool is_exact(const Curve& curve) {
    return std::holds_alternative<Line>(curve) || std::holds_alternative<Arc>(curve);
}

/// A line that is led aside at one end is off all along, a spline only beside it.
bool gives_way_to(const Curve& curve, const Curve& other) {
    return std::holds_alternative<Spline>(curve) && std::holds_alternative<Line>(other);
}

/// The arc of the same radius, side and sense from `start` to `end`. Nothing if that moves it by
/// more than a few times as much as its ends: near a half turn the centre is ill-conditioned.
std::optional<Curve> arc_between(const Arc& arc, const Point2& start, const Point2& end) {
    const Vector2 chord = end - start;
    const double half_chord = 0.5 * chord.norm();
    if (!(half_chord > 0.0) || half_chord >= arc.radius) return std::nullopt;
    const double half_angle = std::asin(half_chord / arc.radius);
    const double sweep = std::abs(arc.sweep) <= pi ? 2.0 * half_angle : 2.0 * (pi - half_angle);
    const Vector2 left = Vector2(-chord.y(), chord.x()) / (2.0 * half_chord);
    const double height = arc.radius * std::cos(0.5 * sweep);
    const Point2 center = 0.5 * (start + end) + (arc.sweep > 0.0 ? height : -height) * left;
    const double ends_moved = (start_point(arc) - start).norm() + (end_point(arc) - end).norm();
    constexpr double most_gain = 4.0;
    if ((center - arc.center).norm() > most_gain * ends_moved) return std::nullopt;
    const Vector2 from = start - center;
    return Arc{center, arc.radius, std::atan2(from.y(), from.x()), std::copysign(sweep, arc.sweep)};
}

/// The arc with one of its ends moved to `place`.
std::optional<Curve> arc_with_end(const Curve& curve, const Point2& place, bool at_start) {
    const Arc* arc = std::get_if<Arc>(&curve);
    if (arc == nullptr) return std::nullopt;
    return at_start ? arc_between(*arc, place, end_point(curve))
                    : arc_between(*arc, start_point(curve), place);
}

}  // namespace

void close_gaps(Loop& loop, const grid::Grid& grid, const KeptGaps& kept) {
    std::vector<Curve> curves;
    std::vector<int> tags;
    const std::size_t count = loop.curves.size();
    Box2 box;
    for (const Curve& curve : loop.curves) box.extend(bounds(curve));
    const double size = box.diagonal().norm();
    const double none = std::min(rounding * grid.cell(), rounding_per_size * size);
    const double widest_kept = std::min(kept.widest, kept.widest_per_size * size);
    for (std::size_t i = 0; i < count; ++i) {
        const bool last = i + 1 == count;
        curves.push_back(loop.curves[i]);
        tags.push_back(loop.tags[i]);
        Curve& next = last ? curves.front() : loop.curves[i + 1];
        const Point2 end = end_point(curves.back());
        const Point2 start = start_point(next);
        if (end == start) continue;
        const double gap = (end - start).norm();
        if (gap <= widest_kept && is_exact(curves.back()) && is_exact(next)) continue;
        if (takes_ends(next) && (gap <= none || !gives_way_to(curves.back(), next))) {
            next = with_ends(next, end, end_point(next));
        } else if (takes_ends(curves.back())) {
            curves.back() = with_ends(curves.back(), start_point(curves.back()), start);
        } else if (gap <= none) {
            continue;
        } else if (auto moved = arc_with_end(next, end, true); moved && gap <= grid.cell()) {
            next = *moved;
        } else if (auto moved_end = arc_with_end(curves.back(), start, false);
                   moved_end && gap <= grid.cell()) {
            curves.back() = *moved_end;
        } else {
            curves.push_back(Line{end, start});
            tags.push_back(loop.tags[i]);
        }
    }
    loop.curves = std::move(curves);
    loop.tags = std::move(tags);
}

}  // namespace planform::arrange
