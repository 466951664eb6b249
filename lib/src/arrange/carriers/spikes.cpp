#include "arrange/carriers/spikes.hpp"

#include <algorithm>
#include <cmath>

#include "curve/bisection.hpp"

namespace planform::arrange {
namespace {

/// A place where the run gets further than `reach` from its corner, by bisection between two: one
/// that is nearer and one that is not.
double leaves_disc(const Carrier& carrier, const Point2& center, double reach, double inside,
                   double outside) {
    constexpr int halvings = 50;
    return detail::bisected(
               inside, outside, halvings,
               [&](double at) { return !((carrier.position(at) - center).norm() > reach); })
        .second;
}

/// A place next to the corner that is further than `reach` from it, where the curve goes straight
/// on there; else the other end.
double first_outside(const Carrier& carrier, double corner, double other_end, double reach) {
    const double speed = carrier.direction(corner).norm();
    if (!(speed > 0.0)) return other_end;
    const double near = corner + std::copysign(1.5 * reach / speed, other_end - corner);
    const bool is_on_run = std::abs(near - corner) < std::abs(other_end - corner);
    return is_on_run && (carrier.position(near) - carrier.position(corner)).norm() > reach
               ? near
               : other_end;
}

}  // namespace

double past_spike(const Carrier& carrier, double corner, double other_end, double reach) {
    if (carrier.kind != Carrier::Kind::spline || corner == other_end) return corner;
    const Point2 center = carrier.position(corner);
    if ((carrier.position(other_end) - center).norm() <= reach) return corner;
    const Vector2 heading = std::copysign(1.0, other_end - corner) * carrier.direction(corner);
    const auto heads_for = [&](double place) {
        return heading.dot(carrier.position(place) - center) >= 0.0;
    };
    // Most curves head for where they leave: that is told without looking for the very place.
    const double outside = first_outside(carrier, corner, other_end, reach);
    if (outside != other_end && heads_for(outside)) return corner;
    const double leave = leaves_disc(carrier, center, reach, corner, outside);
    if (heads_for(leave)) return corner;
    // The last sample that is nearer to the corner than both of its neighbours.
    constexpr int samples = 64;
    const auto at = [&](int i) { return corner + (leave - corner) * i / samples; };
    const auto distance = [&](int i) { return (carrier.position(at(i)) - center).norm(); };
    for (int i = 1; i < samples; ++i)
        if (distance(i) > reach) return corner;
    for (int i = samples - 1; i > 1; --i)
        if (distance(i) <= distance(i - 1) && distance(i) <= distance(i + 1)) {
            const double pass = carrier.parameter_near(center, at(i));
            const bool is_within = std::min(corner, leave) < pass && pass < std::max(corner, leave);
            return is_within ? pass : corner;
        }
    return corner;
}

}  // namespace planform::arrange
