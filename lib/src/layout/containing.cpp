/// Polygons that hold outlines.
///
/// Contours run with the material on their left. A curve that turns left bulges out of the
/// material: tangents hold it. One that turns right bulges into it: its chords already lie outside.

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "planform/error.hpp"
#include "planform/layout.hpp"
#include "planform/offset.hpp"

namespace planform {
namespace {

bool is_simple(const ProfileSet& set) {
    const auto simple = [](const Contour& contour) {
        return std::all_of(
            contour.curves().begin(), contour.curves().end(), [](const Curve& curve) {
                return std::holds_alternative<Line>(curve) || std::holds_alternative<Arc>(curve);
            });
    };
    return std::all_of(set.profiles().begin(), set.profiles().end(), [&](const Profile& profile) {
        return simple(profile.outer()) &&
               std::all_of(profile.holes().begin(), profile.holes().end(), simple);
    });
}

/// Appends the vertices of an arc, all but its end.
void append_arc(const Arc& arc, double tolerance, Ring& ring) {
    const double sweep = std::abs(arc.sweep);
    const auto steps = [&](double cosine, double least) {
        const double half = std::acos(std::clamp(cosine, -1.0, 1.0));
        return std::max(static_cast<int>(std::ceil(sweep / std::max(2.0 * half, 1e-4))),
                        static_cast<int>(std::ceil(sweep / least)));
    };
    if (arc.sweep > 0.0) {
        const int count = std::max(1, steps(arc.radius / (arc.radius + tolerance), pi / 2.0));
        const double step = arc.sweep / count;
        const double reach = arc.radius / std::cos(0.5 * step);
        for (int i = 0; i < count; ++i) {
            const double angle = arc.start_angle + (i + 0.5) * step;
            ring.push_back(arc.center + reach * Vector2(std::cos(angle), std::sin(angle)));
        }
    } else {
        const int count = std::max(1, steps(1.0 - tolerance / arc.radius, pi / 2.0));
        for (int i = 0; i < count; ++i)
            ring.push_back(point_at(arc, static_cast<double>(i) / count));
    }
}

/// The arc cut where it is furthest along x or y: tangents there keep the box as it is, and what
/// just fits a sheet still does.
std::vector<Arc> cut_at_extremes(const Arc& arc) {
    constexpr double quarter = 0.5 * pi;
    const double end = arc.start_angle + arc.sweep;
    const double low = std::min(arc.start_angle, end), high = std::max(arc.start_angle, end);
    std::vector<double> angles;
    for (double k = std::floor(low / quarter) + 1.0; k * quarter < high; k += 1.0)
        if (k * quarter - low > 1e-9 && high - k * quarter > 1e-9) angles.push_back(k * quarter);
    if (arc.sweep < 0.0) std::reverse(angles.begin(), angles.end());
    std::vector<Arc> pieces;
    double from = arc.start_angle;
    for (const double angle : angles) {
        pieces.push_back({arc.center, arc.radius, from, angle - from});
        from = angle;
    }
    pieces.push_back({arc.center, arc.radius, from, end - from});
    return pieces;
}

/// Without vertices that repeat or lie on the line of their neighbours.
Ring tidied(const Ring& ring) {
    Ring result;
    const std::size_t count = ring.size();
    for (std::size_t i = 0; i < count; ++i) {
        const Point2& here = ring[i];
        if (!result.empty() && (here - result.back()).norm() < 1e-9) continue;
        result.push_back(here);
    }
    while (result.size() > 1 && (result.front() - result.back()).norm() < 1e-9) result.pop_back();
    Ring straight;
    for (std::size_t i = 0; i < result.size(); ++i) {
        const Point2& before = straight.empty() ? result.back() : straight.back();
        const Point2& after = result[(i + 1) % result.size()];
        const Vector2 along = after - before;
        const double off = std::abs(cross(along, result[i] - before));
        const bool between = (result[i] - before).dot(after - result[i]) > 0.0;
        if (between && off <= 1e-12 * along.squaredNorm()) continue;
        straight.push_back(result[i]);
    }
    return straight.size() >= 3 ? straight : result;
}

Ring ring_of(const Contour& contour, double tolerance) {
    Ring ring;
    const auto append = [&](const Curve& curve) {
        ring.push_back(start_point(curve));
        if (const auto* arc = std::get_if<Arc>(&curve))
            for (const Arc& piece : cut_at_extremes(*arc)) append_arc(piece, tolerance, ring);
    };
    for (const Curve& curve : contour.curves()) {
        if (std::holds_alternative<Line>(curve) || std::holds_alternative<Arc>(curve)) {
            append(curve);
            continue;
        }
        for (const Curve& piece : fit_arcs(curve, tolerance)) append(piece);
    }
    return tidied(ring);
}

double signed_area(const Ring& ring) {
    double twice = 0.0;
    for (std::size_t i = 0; i < ring.size(); ++i)
        twice += cross(ring[i] - ring[0], ring[(i + 1) % ring.size()] - ring[0]);
    return 0.5 * twice;
}

bool in_triangle(const Point2& point, const Point2& a, const Point2& b, const Point2& c) {
    return cross(b - a, point - a) >= 0.0 && cross(c - b, point - b) >= 0.0 &&
           cross(a - c, point - c) >= 0.0;
}

/// Does any vertex but three neighbours lie in the triangle (either way round)?
bool holds_vertex(const Ring& ring, Point2 a, Point2 b, Point2 c, std::size_t from,
                  std::size_t count) {
    if (cross(b - a, c - a) < 0.0) std::swap(b, c);
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const std::size_t off = (i + ring.size() - from) % ring.size();
        if (off < count) continue;
        if (in_triangle(ring[i], a, b, c)) return true;
    }
    return false;
}

bool cross_properly(const Point2& a, const Point2& b, const Point2& c, const Point2& d) {
    return (cross(b - a, c - a) < 0.0) != (cross(b - a, d - a) < 0.0) &&
           (cross(d - c, a - c) < 0.0) != (cross(d - c, b - c) < 0.0);
}

/// Does an edge that neither begins nor ends in the four vertices from `from` on cross from b by
/// the tip to c?
bool tip_is_crossed(const Ring& ring, const Point2& b, const Point2& tip, const Point2& c,
                    std::size_t from) {
    const std::size_t count = ring.size();
    for (std::size_t i = 0; i < count; ++i) {
        const std::size_t off = (i + count - from) % count;
        if (off < 3) continue;
        const Point2 &p = ring[i], &q = ring[(i + 1) % count];
        if (cross_properly(p, q, b, tip) || cross_properly(p, q, tip, c)) return true;
    }
    return false;
}

/// Without the inner corner after vertex i, if it is no deeper than `bound` and nothing lies in it.
std::optional<Ring> without_inner_corner(const Ring& ring, std::size_t i, double bound) {
    const std::size_t count = ring.size();
    const Point2 &a = ring[i], &b = ring[(i + 1) % count], &c = ring[(i + 2) % count];
    const Vector2 along = c - a;
    const double turn = cross(b - a, along);
    if (turn > 0.0 || -turn > bound * along.norm()) return {};
    if (holds_vertex(ring, a, b, c, i, 3)) return {};
    Ring result = ring;
    result.erase(result.begin() + static_cast<std::ptrdiff_t>((i + 1) % count));
    return result;
}

/// The edge after vertex i + 1, between two outer corners, replaced by the tip of its neighbours,
/// if that is no further than `bound` from it.
std::optional<Ring> with_tip(const Ring& ring, std::size_t i, double bound) {
    const std::size_t count = ring.size();
    const Point2 &a = ring[i], &b = ring[(i + 1) % count];
    const Point2 &c = ring[(i + 2) % count], &d = ring[(i + 3) % count];
    const Vector2 first = b - a, last = c - d, edge = c - b;
    if (cross(first, edge) <= 0.0 || cross(edge, -last) <= 0.0) return {};
    const double turn = cross(first, last);
    if (turn >= 0.0) return {};  // the neighbours don't meet beyond the edge
    const double t = cross(c - b, last) / turn;
    const Point2 tip = b + t * first;
    const double height = cross(tip - b, edge) / edge.norm();
    if (t <= 0.0 || height > bound || holds_vertex(ring, b, tip, c, i, 4) ||
        tip_is_crossed(ring, b, tip, c, i))
        return {};
    Ring result = ring;
    result[(i + 1) % count] = tip;
    result.erase(result.begin() + static_cast<std::ptrdiff_t>((i + 2) % count));
    return result;
}

double distance_to_ring(const Point2& point, const Ring& ring) {
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Point2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
        const Vector2 along = b - a;
        const double t = std::clamp(along.dot(point - a) / along.squaredNorm(), 0.0, 1.0);
        least = std::min(least, (a + t * along - point).norm());
    }
    return least;
}

/// How far three vertices from one on, and the middles of the edges from them, are from another
/// ring.
double furthest(const Ring& ring, std::size_t from, const Ring& other) {
    double most = 0.0;
    for (std::size_t k = 0; k < 3; ++k) {
        const Point2& here = ring[(from + k) % ring.size()];
        const Point2& next = ring[(from + k + 1) % ring.size()];
        most = std::max(
            {most, distance_to_ring(here, other), distance_to_ring(0.5 * (here + next), other)});
    }
    return most;
}

}  // namespace

std::vector<Rings> containing_polygons(const ProfileSet& set, double distance, double tolerance) {
    if (!std::isfinite(tolerance) || tolerance <= 0.0 || !std::isfinite(distance) || distance < 0.0)
        throw GeometryError(ErrorKind::invalid_argument,
                            "containing polygons: the tolerance must be positive and finite, the "
                            "distance finite and 0 or more (mm)");
    const double grown = distance + (is_simple(set) ? 0.0 : tolerance);
    const ProfileSet around = grown > 0.0 ? offset(set, grown).profiles : set;
    std::vector<Rings> result;
    for (const Profile& profile : around.profiles()) {
        Rings rings{ring_of(profile.outer(), tolerance), {}};
        for (const Contour& hole : profile.holes()) {
            Ring ring = ring_of(hole, tolerance);
            // A hole that tangents fill up is none.
            if (ring.size() >= 3 && signed_area(ring) < 0.0) rings.holes.push_back(std::move(ring));
        }
        result.push_back(std::move(rings));
    }
    return result;
}

Ring simplified_outward(const Ring& ring, double bound) {
    Ring result = ring;
    // What costs little first. Corners that are dropped one after the other add up: a look at each.
    for (const double step : {bound / 8.0, bound / 4.0, bound / 2.0, bound}) {
        std::size_t kept = 0;
        for (std::size_t i = 0; kept < result.size() && result.size() > 4; ++i) {
            const std::size_t at = i % result.size();
            std::optional<Ring> next = without_inner_corner(result, at, step);
            if (!next) next = with_tip(result, at, step);
            const std::size_t from = next && at >= next->size() ? at - 1 : at;
            if (next && furthest(*next, from, ring) <= bound) {
                result = std::move(*next);
                kept = 0;
            } else {
                ++kept;
            }
        }
    }
    return result;
}

}  // namespace planform
