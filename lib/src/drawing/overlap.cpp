#include "drawing/overlap.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "curve/angles.hpp"

namespace planform::drawing {
namespace {

/// Stretches count from this many times `same` on.
constexpr double least_stretch = 10.0;

/// How far (mm) two curves may be apart over a stretch of this length to be one. Short stretches
/// have to agree better: two arcs that meet in a cusp are near each other for a while, and so is a
/// short edge that goes on where another stops.
double allowed_distance(double stretch, double same) {
    constexpr double share = 1e-4;
    constexpr double rounding = 2e-7;  // of decimals in files
    return std::min(same, std::max(share * stretch, rounding));
}

double distance_to(const Curve& curve, const Point2& point) {
    return (point_at(curve, nearest_parameter(curve, point)) - point).norm();
}

/// True if points all along the stretch lie on the other curve.
bool runs_along(const Curve& curve, const Interval& stretch, const Curve& other, double same) {
    constexpr int samples = 9;  // odd, so that no symmetry of the curve hides what lies between
    for (int i = 0; i <= samples; ++i) {
        const double t = stretch.first + (stretch.last - stretch.first) * i / samples;
        if (distance_to(other, point_at(curve, t)) > same) return false;
    }
    return true;
}

std::vector<Overlap> line_on_line(const Line& line, const Line& other, double same) {
    const Vector2 along = other.end - other.start;
    const double size = along.norm();
    const double own_size = (line.end - line.start).norm();
    if (size == 0.0 || own_size == 0.0) return {};
    const Vector2 unit = along / size;
    const double first = unit.dot(line.start - other.start);
    const double last = unit.dot(line.end - other.start);
    const double step = last - first;
    const double near = allowed_distance(std::min(size, own_size), same);
    if (std::abs(step) < 0.5 * own_size) return {};
    const auto at = [&](double place) { return std::clamp((place - first) / step, 0.0, 1.0); };
    double from = at(0.0), to = at(size);
    if (from > to) std::swap(from, to);
    // An end that stops short of the other's by no more than curves may be apart reaches it.
    if (from * own_size <= near) from = 0.0;
    if ((1.0 - to) * own_size <= near) to = 1.0;
    const bool whole = from == 0.0 && to == 1.0;
    if ((to - from) * own_size <= (whole ? 0.0 : least_stretch * same)) return {};
    const double allowed = allowed_distance((to - from) * own_size, same);
    const auto is_beside = [&](double t) {
        const Point2 point = line.start + t * (line.end - line.start);
        return std::abs(cross(unit, point - other.start)) <= allowed;
    };
    if (!is_beside(from) || !is_beside(to)) return {};
    return {{{from, to}}};
}

/// Angle counter-clockwise from `from` to `to`, in [0, 2 pi).
double turn_between(double from, double to) {
    const double turn = std::fmod(to - from, full_turn);
    return turn < 0.0 ? turn + full_turn : turn;
}

double angle_about(const Point2& center, const Point2& point) {
    return std::atan2(point.y() - center.y(), point.x() - center.x());
}

/// The arc counter-clockwise, as seen from another arc's centre.
struct Turn {
    double start;
    double sweep;
};

Turn turn_of(const Arc& arc, const Point2& center) {
    const bool backward = arc.sweep < 0.0;
    const double start = angle_about(center, backward ? end_point(arc) : start_point(arc));
    if (std::abs(arc.sweep) >= full_turn * (1.0 - 1e-12)) return {start, full_turn};
    const double end = angle_about(center, backward ? start_point(arc) : end_point(arc));
    return {start, turn_between(start, end)};
}

std::vector<Overlap> arc_on_arc(const Arc& arc, const Arc& other, double same) {
    const auto is_beside = [&](double t, double stretch) {
        return std::abs((point_at(arc, t) - other.center).norm() - other.radius) <=
               allowed_distance(stretch, same);
    };
    const Turn own = turn_of(arc, other.center);
    const Turn its = turn_of(other, other.center);
    const double own_length = length(arc);
    if (its.sweep == full_turn && is_beside(0.0, own_length) && is_beside(0.25, own_length) &&
        is_beside(0.5, own_length) && is_beside(1.0, own_length))
        return {{domain(arc)}};
    // Seen from the other's centre, an arc of the same circle is as long as it is.
    if (std::abs(own.sweep * other.radius - own_length) > 0.1 * own_length) return {};
    std::vector<Overlap> result;
    const double slack = allowed_distance(std::min(own_length, length(other)), same) / other.radius;
    for (int turns = -1; turns <= 1; ++turns) {
        const double begin = turn_between(own.start, its.start) + turns * full_turn;
        // Angles from the arc's own start, where it covers [0, own.sweep].
        double from = std::max(0.0, begin);
        double to = std::min(own.sweep, begin + its.sweep);
        if (from <= slack) from = 0.0;
        if (own.sweep - to <= slack) to = own.sweep;
        const bool whole = from == 0.0 && to == own.sweep;
        if ((to - from) * other.radius <= (whole ? 0.0 : least_stretch * same)) continue;
        Interval range{from / own.sweep, to / own.sweep};
        if (arc.sweep < 0.0) range = {1.0 - range.last, 1.0 - range.first};
        const double middle = 0.5 * (range.first + range.last);
        const double stretch = (to - from) * other.radius;
        if (is_beside(range.first, stretch) && is_beside(middle, stretch) &&
            is_beside(range.last, stretch))
            result.push_back({range});
    }
    return result;
}

/// For all other kinds: stretches between the ends of both, checked by points on them.
std::vector<Overlap> any_on_any(const Curve& curve, const Curve& other, double widest) {
    const Interval range = domain(curve);
    const double same = allowed_distance(std::min(length(curve), length(other)), widest);
    const std::array<Point2, 2> own = {start_point(curve), end_point(curve)};
    const std::array<Point2, 2> its = {start_point(other), end_point(other)};
    const bool closed = (own[0] - own[1]).norm() <= same && (its[0] - its[1]).norm() <= same;
    std::vector<double> breaks = {range.first, range.last};
    int met = 0;
    for (const Point2& point : own) met += distance_to(other, point) <= same ? 1 : 0;
    for (const Point2& point : its) {
        const double t = nearest_parameter(curve, point);
        if ((point_at(curve, t) - point).norm() > same) continue;
        ++met;
        breaks.push_back(t);
    }
    if (met < 2 && !closed) return {};
    if (met > 0 && runs_along(curve, range, other, same)) return {{range}};
    if (closed) return {};
    std::sort(breaks.begin(), breaks.end());
    std::vector<Overlap> result;
    for (std::size_t i = 0; i + 1 < breaks.size(); ++i) {
        const Interval stretch{breaks[i], breaks[i + 1]};
        if (!(stretch.first < stretch.last)) continue;
        const Vector2 chord = point_at(curve, stretch.last) - point_at(curve, stretch.first);
        if (chord.norm() > least_stretch * widest &&
            runs_along(curve, stretch, other, allowed_distance(chord.norm(), widest)))
            result.push_back({stretch});
    }
    return result;
}

}  // namespace

std::vector<Overlap> overlaps(const Curve& curve, const Curve& other, double same) {
    const auto *line = std::get_if<Line>(&curve), *other_line = std::get_if<Line>(&other);
    const auto *arc = std::get_if<Arc>(&curve), *other_arc = std::get_if<Arc>(&other);
    if (line && other_line) return line_on_line(*line, *other_line, same);
    if (arc && other_arc) return arc_on_arc(*arc, *other_arc, same);
    // A line has no stretch in common with an arc or an ellipse that any drawing would mean.
    const bool spline =
        std::holds_alternative<Spline>(curve) || std::holds_alternative<Spline>(other);
    if ((line || other_line) && !spline) return {};
    return any_on_any(curve, other, same);
}

}  // namespace planform::drawing
