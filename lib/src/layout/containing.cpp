/// Polygons that hold outlines.
///
/// Contours run with the material on their left. A curve that turns left bulges out of the
/// material: tangents hold it. One that turns right bulges into it: its chords already lie outside.

#include <algorithm>
#include <cmath>
#include <limits>
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

/// Appends the vertices after the start of an arc: all but its end.
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
        for (int i = 1; i < count; ++i)
            ring.push_back(point_at(arc, static_cast<double>(i) / count));
    }
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
        if (const auto* arc = std::get_if<Arc>(&curve)) append_arc(*arc, tolerance, ring);
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

/// Drops an inner corner that is no deeper than `bound`, the first that can be.
bool drop_inner_corner(Ring& ring, double bound) {
    const std::size_t count = ring.size();
    for (std::size_t i = 0; i < count; ++i) {
        const Point2 &a = ring[i], &b = ring[(i + 1) % count], &c = ring[(i + 2) % count];
        const Vector2 along = c - a;
        const double turn = cross(b - a, along);
        if (turn > 0.0) continue;  // an outer corner: its vertex stays
        if (-turn > bound * along.norm()) continue;
        if (holds_vertex(ring, a, b, c, i, 3)) continue;
        ring.erase(ring.begin() + static_cast<std::ptrdiff_t>((i + 1) % count));
        return true;
    }
    return false;
}

/// Replaces an edge between two outer corners by the tip of its neighbours, no further than `bound`
/// from it.
bool sharpen_edge(Ring& ring, double bound) {
    const std::size_t count = ring.size();
    for (std::size_t i = 0; i < count; ++i) {
        const Point2 &a = ring[i], &b = ring[(i + 1) % count];
        const Point2 &c = ring[(i + 2) % count], &d = ring[(i + 3) % count];
        const Vector2 first = b - a, last = c - d, edge = c - b;
        if (cross(first, edge) <= 0.0 || cross(edge, -last) <= 0.0) continue;
        const double turn = cross(first, last);
        if (turn >= 0.0) continue;  // the neighbours don't meet beyond the edge
        const double t = cross(c - b, last) / turn;
        const Point2 tip = b + t * first;
        const double height = cross(tip - b, edge) / edge.norm();
        if (t <= 0.0 || height > bound || holds_vertex(ring, b, tip, c, i, 4) ||
            tip_is_crossed(ring, b, tip, c, i))
            continue;
        ring[(i + 1) % count] = tip;
        ring.erase(ring.begin() + static_cast<std::ptrdiff_t>((i + 2) % count));
        return true;
    }
    return false;
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

/// How far the vertices and the middles of the edges of one ring are from another.
double furthest(const Ring& ring, const Ring& other) {
    double most = 0.0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        most = std::max(most, distance_to_ring(ring[i], other));
        most =
            std::max(most, distance_to_ring(0.5 * (ring[i] + ring[(i + 1) % ring.size()]), other));
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
    // Corners that are dropped one after the other add up: a share of the bound each, and a look at
    // what came of it.
    const double step = bound / 4.0;
    while (result.size() > 4) {
        Ring next = result;
        if (!drop_inner_corner(next, step) && !sharpen_edge(next, step)) break;
        if (furthest(next, ring) > bound) break;
        result = std::move(next);
    }
    return result;
}

}  // namespace planform
