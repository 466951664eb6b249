#include "curve/straight_pieces.hpp"

#include <algorithm>
#include <cmath>

#include "curve/bisection.hpp"
#include "curve/spline.hpp"

namespace planform {
namespace {

/// From `origin` to the pole that is furthest from it.
Vector2 furthest_offset(const std::vector<Point2>& poles, const Point2& origin) {
    Vector2 furthest = Vector2::Zero();
    for (const Point2& pole : poles)
        if ((pole - origin).squaredNorm() > furthest.squaredNorm()) furthest = pole - origin;
    return furthest;
}

/// Where the way along `direction` turns between two parameters, by bisection of its derivative.
double turning_point(const Spline& spline, const Vector2& direction, double low, double high) {
    const bool rises = detail::evaluate(spline, low, 1).first.dot(direction) > 0.0;
    constexpr int halvings = 60;
    return detail::bisected_place(low, high, halvings, [&](double t) {
        return (detail::evaluate(spline, t, 1).first.dot(direction) > 0.0) == rises;
    });
}

/// Parameters where the way along `direction` turns, in order.
std::vector<double> turning_points(const Spline& spline, const Vector2& direction) {
    std::vector<double> turns;
    double before = spline.knots.front();
    double slope_before = 0.0;
    detail::for_each_span(spline, [&](int span) {
        const double first = spline.knots[static_cast<std::size_t>(span)];
        const double last = spline.knots[static_cast<std::size_t>(span) + 1];
        // The derivative of degree p (2 p if rational) has fewer roots than there are samples.
        const int samples = 4 * spline.degree + 4;
        for (int i = 0; i <= samples; ++i) {
            // Just inside the span: at a knot the derivative may jump.
            const double inset = std::clamp(static_cast<double>(i) / samples, 1e-9, 1.0 - 1e-9);
            const double t = first + inset * (last - first);
            const double slope = detail::evaluate(spline, t, 1).first.dot(direction);
            if (slope == 0.0) continue;
            if (slope_before != 0.0 && (slope > 0.0) != (slope_before > 0.0))
                turns.push_back(turning_point(spline, direction, before, t));
            before = t;
            slope_before = slope;
        }
    });
    return turns;
}

}  // namespace

std::vector<Curve> straight_pieces(const Spline& spline, double tolerance) {
    const Point2 start = spline.poles.front(), end = spline.poles.back();
    const Vector2 reach = furthest_offset(spline.poles, start);
    const double size = reach.norm();
    if (size == 0.0) return {};
    const Vector2 direction = reach / size;
    for (const Point2& pole : spline.poles)
        if (std::abs(cross(direction, pole - start)) > tolerance) return {};
    std::vector<Curve> pieces;
    Point2 from = start;
    const auto line_to = [&](const Point2& to) {
        if (to == from) return;
        pieces.push_back(Line{from, to});
        from = to;
    };
    for (const double t : turning_points(spline, direction))
        line_to(detail::evaluate(spline, t, 0).point);
    line_to(end);
    return pieces;
}

std::vector<Curve> canonical_pieces(const Spline& spline, double tolerance) {
    const Curve simplest = canonical(spline, tolerance);
    if (std::holds_alternative<Spline>(simplest))
        if (std::vector<Curve> pieces = straight_pieces(spline, tolerance); !pieces.empty())
            return pieces;
    return {simplest};
}

}  // namespace planform
