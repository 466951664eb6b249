/// Position and derivatives of all kinds of curve.

#include <cmath>

#include "curve/overloaded.hpp"
#include "curve/spline.hpp"
#include "planform/curve.hpp"

namespace planform {
namespace {

using detail::Overloaded;

Vector2 direction(double angle) { return {std::cos(angle), std::sin(angle)}; }

/// major cos a + minor sin a, with the minor axis left of the major one.
Vector2 on_axes(const EllipticalArc& arc, double cosine, double sine) {
    const Vector2 minor = arc.ratio * Vector2(-arc.major.y(), arc.major.x());
    return cosine * arc.major + sine * minor;
}

}  // namespace

Interval domain(const Curve& curve) {
    if (const Spline* spline = std::get_if<Spline>(&curve)) {
        detail::require_consistent(*spline);
        return {spline->knots.front(), spline->knots.back()};
    }
    return {0.0, 1.0};
}

Point2 point_at(const Curve& curve, double t) {
    return std::visit(
        Overloaded{
            // Blended so that both ends come out to the last bit.
            [t](const Line& line) -> Point2 { return (1.0 - t) * line.start + t * line.end; },
            [t](const Arc& arc) -> Point2 {
                return arc.center + arc.radius * direction(arc.start_angle + t * arc.sweep);
            },
            [t](const EllipticalArc& arc) -> Point2 {
                const double angle = arc.start_angle + t * arc.sweep;
                return arc.center + on_axes(arc, std::cos(angle), std::sin(angle));
            },
            [t](const Spline& spline) -> Point2 { return detail::evaluate(spline, t, 0).point; }},
        curve);
}

Vector2 derivative_at(const Curve& curve, double t) {
    return std::visit(
        Overloaded{
            [](const Line& line) -> Vector2 { return line.end - line.start; },
            [t](const Arc& arc) -> Vector2 {
                const Vector2 outward = direction(arc.start_angle + t * arc.sweep);
                return arc.sweep * arc.radius * Vector2(-outward.y(), outward.x());
            },
            [t](const EllipticalArc& arc) -> Vector2 {
                const double angle = arc.start_angle + t * arc.sweep;
                return arc.sweep * on_axes(arc, -std::sin(angle), std::cos(angle));
            },
            [t](const Spline& spline) -> Vector2 { return detail::evaluate(spline, t, 1).first; }},
        curve);
}

Vector2 second_derivative_at(const Curve& curve, double t) {
    return std::visit(
        Overloaded{
            [](const Line&) -> Vector2 { return Vector2::Zero(); },
            [t](const Arc& arc) -> Vector2 {
                return -arc.sweep * arc.sweep * arc.radius *
                       direction(arc.start_angle + t * arc.sweep);
            },
            [t](const EllipticalArc& arc) -> Vector2 {
                const double angle = arc.start_angle + t * arc.sweep;
                return -arc.sweep * arc.sweep * on_axes(arc, std::cos(angle), std::sin(angle));
            },
            [t](const Spline& spline) -> Vector2 { return detail::evaluate(spline, t, 2).second; }},
        curve);
}

Point2 start_point(const Curve& curve) {
    if (const Line* line = std::get_if<Line>(&curve)) return line->start;
    if (const Spline* spline = std::get_if<Spline>(&curve)) {
        detail::require_consistent(*spline);
        return spline->poles.front();
    }
    return point_at(curve, 0.0);
}

Point2 end_point(const Curve& curve) {
    if (const Line* line = std::get_if<Line>(&curve)) return line->end;
    if (const Spline* spline = std::get_if<Spline>(&curve)) {
        detail::require_consistent(*spline);
        return spline->poles.back();
    }
    return point_at(curve, 1.0);
}

}  // namespace planform
