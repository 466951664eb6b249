#include "flatten/zero_sets/zero_set.hpp"

#include <algorithm>
#include <cmath>

#include "curve/bisection.hpp"

namespace planform::flatten {
namespace {

constexpr double widest_turn = 0.2;  // rad a step
constexpr double crease_radius = 1e-6;

}  // namespace

FieldValue ZeroSet::scaled_field(const Point2& p) const {
    FieldValue f = field_.with_gradient(unscale(p));
    f.gradient = f.gradient.cwiseProduct(range_);
    return f;
}

std::optional<ZeroPoint> ZeroSet::correct(Point2 p, double reach) const {
    const Point2 start = p;
    FieldValue f = scaled_field(p);
    double last_change = reach;
    for (int i = 0; i < following_.most_corrections; ++i) {
        const double square = f.gradient.squaredNorm();
        if (!(square > 0.0)) return std::nullopt;
        const Vector2 change = -f.value / square * f.gradient;
        p += change;
        if (!((p - start).norm() <= reach)) return std::nullopt;
        f = scaled_field(p);
        const double size = change.norm();
        // Quadratic convergence ends in rounding noise.
        if (size < following_.settled || (size < following_.noise && size > 0.5 * last_change))
            break;
        last_change = size;
    }
    const Vector2 travel = field_.travel(f.gradient);
    const double size = travel.norm();
    if (!(size > 0.0)) return std::nullopt;
    return ZeroPoint{p, travel / size};
}

std::optional<ZeroPoint> ZeroSet::point_at(const Point2& p) const {
    const Vector2 travel = field_.travel(scaled_field(p).gradient);
    const double size = travel.norm();
    if (!(size > 0.0)) return std::nullopt;
    return ZeroPoint{p, travel / size};
}

std::optional<ZeroPoint> ZeroSet::advance(const ZeroPoint& from, double& h) const {
    for (; h > following_.smallest_step; h *= 0.5) {
        const auto next = correct(from.at + h * from.travel, 0.5 * h);
        if (!next) continue;
        const double turn =
            std::atan2(cross(from.travel, next->travel), from.travel.dot(next->travel));
        if (!(std::abs(turn) <= widest_turn)) continue;
        if (std::abs(turn) < 0.4 * widest_turn) h = std::min(1.6 * h, largest_step);
        return next;
    }
    h = crease_radius;
    return past_crease(from);
}

/// Past a place where the zero set turns sharply: surfaces of files have creases along their knots,
/// and places where they run backward a little. The signs on a small circle tell where the zero set
/// leaves it, positive side on the left.
std::optional<ZeroPoint> ZeroSet::past_crease(const ZeroPoint& from) const {
    constexpr int samples = 64;
    const double start = std::atan2(from.travel.y(), from.travel.x());
    const auto on_circle = [&](double angle) -> Point2 {
        return from.at + crease_radius * Vector2(std::cos(angle), std::sin(angle));
    };
    const auto is_left = [&](double angle) {
        return (field_.value(unscale(on_circle(angle))) > 0.0) == (field_.outward() > 0);
    };
    std::optional<double> exit;  // the one that turns least
    for (int i = 0; i < samples; ++i) {
        const double low = start + pi * (2.0 * i / samples - 1.0);
        const double high = low + 2.0 * pi / samples;
        if (is_left(low) || !is_left(high)) continue;
        const double angle =
            detail::bisected_place(low, high, 40, [&](double at) { return !is_left(at); });
        if (!exit || std::abs(angle - start) < std::abs(*exit - start)) exit = angle;
    }
    if (!exit) return std::nullopt;
    const Point2 at = on_circle(*exit);
    if (const auto exact = correct(at, 0.1 * crease_radius)) return exact;
    return ZeroPoint{at, Vector2(std::cos(*exit), std::sin(*exit))};
}

bool closes_loop(const Point2& start, const Point2& from, const Point2& to) {
    const Vector2 way = to - from;
    const double along = (start - from).dot(way) / way.squaredNorm();
    const double aside = std::abs(cross(way, start - from)) / way.norm();
    return along > 0.0 && along <= 1.0 && aside < 0.1 * way.norm();
}

}  // namespace planform::flatten
