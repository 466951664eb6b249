/// The least distance between two curves.
///
/// Lines and arcs: the nearest points are a crossing, an end of one with its nearest point on the
/// other, or feet of a common normal, which goes through the centres. Others: branch and bound on
/// chords whose deviation from their curve is known.

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <vector>

#include "curve/chords.hpp"
#include "planform/layout.hpp"

namespace planform {
namespace {

/// The nearest pair so far.
struct Best {
    Nearness nearness{INFINITY, Point2::Zero(), Point2::Zero()};

    void offer(const Point2& first, const Point2& second) {
        const double distance = (second - first).norm();
        if (distance < nearness.distance) nearness = {distance, first, second};
    }
};

void offer_ends(const Curve& first, const Curve& second, Best& best) {
    for (const Point2& end : {start_point(first), end_point(first)})
        best.offer(end, point_at(second, nearest_parameter(second, end)));
    for (const Point2& end : {start_point(second), end_point(second)})
        best.offer(point_at(first, nearest_parameter(first, end)), end);
}

/// A point that lies on both, if the curves' own nearest points agree with it.
void offer_common(const Curve& first, const Curve& second, const Point2& point, Best& best) {
    best.offer(point_at(first, nearest_parameter(first, point)),
               point_at(second, nearest_parameter(second, point)));
}

void offer_inner(const Line& a, const Line& b, Best& best) {
    const Vector2 along_a = a.end - a.start;
    const Vector2 along_b = b.end - b.start;
    const double turn = cross(along_a, along_b);
    if (turn == 0.0) return;
    const Vector2 between = b.start - a.start;
    const double t = cross(between, along_b) / turn;
    const double u = cross(between, along_a) / turn;
    if (t < 0.0 || t > 1.0 || u < 0.0 || u > 1.0) return;
    best.offer(a.start + t * along_a, b.start + u * along_b);
}

void offer_inner(const Line& line, const Arc& arc, Best& best) {
    const Vector2 along = line.end - line.start;
    const double squared = along.squaredNorm();
    if (squared == 0.0) return;
    const double foot = along.dot(arc.center - line.start) / squared;
    const Point2 at_foot = line.start + foot * along;
    if (foot >= 0.0 && foot <= 1.0)
        best.offer(at_foot, point_at(arc, nearest_parameter(arc, at_foot)));
    const double height = (at_foot - arc.center).squaredNorm();
    const double half = arc.radius * arc.radius - height;
    if (half < 0.0) return;
    const double reach = std::sqrt(half / squared);
    for (const double t : {foot - reach, foot + reach})
        if (t >= 0.0 && t <= 1.0) offer_common(line, arc, line.start + t * along, best);
}

void offer_inner(const Arc& a, const Arc& b, Best& best) {
    const Vector2 between = b.center - a.center;
    const double distance = between.norm();
    if (distance == 0.0) return;  // about one centre: the ends tell
    const Vector2 along = between / distance;
    for (const double side : {-1.0, 1.0}) {
        const Point2 on_a = a.center + side * a.radius * along;
        offer_common(a, b, on_a, best);
        const Point2 on_b = b.center + side * b.radius * along;
        offer_common(a, b, on_b, best);
    }
    const double x =
        (distance * distance + (a.radius - b.radius) * (a.radius + b.radius)) / (2.0 * distance);
    const double squared = a.radius * a.radius - x * x;
    if (squared < 0.0) return;
    const Vector2 across(-along.y(), along.x());
    for (const double side : {-1.0, 1.0})
        offer_common(a, b, a.center + x * along + side * std::sqrt(squared) * across, best);
}

bool is_simple(const Curve& curve) {
    return std::holds_alternative<Line>(curve) || std::holds_alternative<Arc>(curve);
}

Nearness distance_of_simple(const Curve& first, const Curve& second) {
    Best best;
    offer_ends(first, second, best);
    if (const auto* a = std::get_if<Line>(&first)) {
        if (const auto* b = std::get_if<Line>(&second))
            offer_inner(*a, *b, best);
        else
            offer_inner(*a, std::get<Arc>(second), best);
    } else if (const auto* b = std::get_if<Line>(&second)) {
        Best turned;
        turned.nearness = {best.nearness.distance, best.nearness.second, best.nearness.first};
        offer_inner(*b, std::get<Arc>(first), turned);
        return {turned.nearness.distance, turned.nearness.second, turned.nearness.first};
    } else {
        offer_inner(std::get<Arc>(first), std::get<Arc>(second), best);
    }
    return best.nearness;
}

/// A chord with what it stands for.
struct Chord {
    double from, to;
    Point2 start, end;
    double deviation;
};

std::vector<Chord> chords(const Curve& curve, double from, double to, double tolerance) {
    if (const auto* line = std::get_if<Line>(&curve))
        return {{0.0, 1.0, line->start, line->end, 0.0}};
    const Interval whole = domain(curve);
    const bool is_whole = from <= whole.first && to >= whole.last;
    const Curve piece = is_whole ? curve : trimmed(curve, from, to);
    const Interval own = domain(piece);
    const double scale = (to - from) / (own.last - own.first);
    std::vector<Chord> result;
    double last = own.first;
    Point2 start = start_point(piece);
    for (const detail::BoundedChord& chord : detail::bounded_chords(piece, tolerance, 0.0)) {
        const Point2 end = point_at(piece, chord.last);
        result.push_back({from + (last - own.first) * scale,
                          from + (chord.last - own.first) * scale, start, end, chord.deviation});
        last = chord.last;
        start = end;
    }
    return result;
}

Nearness nearness_of_chords(const Chord& a, const Chord& b) {
    return distance_of_simple(Line{a.start, a.end}, Line{b.start, b.end});
}

double lower_bound(const Chord& a, const Chord& b) {
    return nearness_of_chords(a, b).distance - a.deviation - b.deviation;
}

Nearness distance_by_chords(const Curve& first, const Curve& second, double limit) {
    const double extent =
        std::max(bounds(first).diagonal().norm(), bounds(second).diagonal().norm());
    constexpr double finest = layout_slack / 8.0;
    double tolerance = std::max(extent / 64.0, finest);
    const Interval whole_a = domain(first);
    const Interval whole_b = domain(second);
    Best best;
    offer_ends(first, second, best);
    struct Pair {
        Chord a, b;
    };
    std::vector<Pair> pairs;
    for (const Chord& a : chords(first, whole_a.first, whole_a.last, tolerance))
        for (const Chord& b : chords(second, whole_b.first, whole_b.last, tolerance))
            pairs.push_back({a, b});
    while (true) {
        std::vector<Pair> near;
        for (const Pair& pair : pairs) {
            if (lower_bound(pair.a, pair.b) >= std::min(best.nearness.distance, limit)) continue;
            best.offer(pair.a.end, point_at(second, nearest_parameter(second, pair.a.end)));
            best.offer(point_at(first, nearest_parameter(first, pair.b.end)), pair.b.end);
            near.push_back(pair);
        }
        if (tolerance <= finest)
            for (const Pair& pair : near) {
                const Nearness nearness = nearness_of_chords(pair.a, pair.b);
                best.offer(nearness.first, nearness.second);
            }
        if (near.empty() || tolerance <= finest) return best.nearness;
        tolerance = std::max(tolerance / 16.0, finest);
        pairs.clear();
        for (const Pair& pair : near) {
            if (lower_bound(pair.a, pair.b) >= std::min(best.nearness.distance, limit)) continue;
            const auto finer_a = pair.a.deviation <= finest
                                     ? std::vector<Chord>{pair.a}
                                     : chords(first, pair.a.from, pair.a.to, tolerance);
            const auto finer_b = pair.b.deviation <= finest
                                     ? std::vector<Chord>{pair.b}
                                     : chords(second, pair.b.from, pair.b.to, tolerance);
            for (const Chord& a : finer_a)
                for (const Chord& b : finer_b) pairs.push_back({a, b});
        }
    }
}

}  // namespace

Nearness distance_between(const Curve& first, const Curve& second, double limit) {
    if (is_simple(first) && is_simple(second)) return distance_of_simple(first, second);
    return distance_by_chords(first, second, limit);
}

}  // namespace planform
