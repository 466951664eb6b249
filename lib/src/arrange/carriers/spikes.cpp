#include "arrange/carriers/spikes.hpp"

#include <algorithm>
#include <cmath>

namespace planform::arrange {
namespace {

/// A place where the run gets further than `reach` from its corner, by bisection: next to the
/// corner where the curve goes straight on there.
double leaves_disc(const Carrier& carrier, double corner, double other_end, double reach) {
    const Point2 center = carrier.position(corner);
    const auto is_outside = [&](double t) { return (carrier.position(t) - center).norm() > reach; };
    double inside = corner, outside = other_end;
    int halvings = 50;
    const double speed = carrier.direction(corner).norm();
    if (speed > 0.0) {
        const double near = corner + std::copysign(1.5 * reach / speed, other_end - corner);
        if (std::abs(near - corner) < std::abs(other_end - corner) && is_outside(near)) {
            outside = near;
            halvings = 4;
        }
    }
    for (int i = 0; i < halvings; ++i) {
        const double middle = 0.5 * (inside + outside);
        (is_outside(middle) ? outside : inside) = middle;
    }
    return outside;
}

}  // namespace

double past_spike(const Carrier& carrier, double corner, double other_end, double reach) {
    if (carrier.kind != Carrier::Kind::spline || corner == other_end) return corner;
    const Point2 center = carrier.position(corner);
    if ((carrier.position(other_end) - center).norm() <= reach) return corner;
    const double leave = leaves_disc(carrier, corner, other_end, reach);
    const Vector2 away = carrier.position(leave) - center;
    const Vector2 heading = std::copysign(1.0, other_end - corner) * carrier.direction(corner);
    if (heading.dot(away) >= 0.0) return corner;
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
