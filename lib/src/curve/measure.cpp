/// Arc length, swept area and bounds.

#include <algorithm>
#include <cmath>
#include <limits>

#include "curve/overloaded.hpp"
#include "curve/quadrature.hpp"
#include "curve/spline.hpp"
#include "planform/curve.hpp"

namespace planform {
namespace {

using detail::BezierPiece;
using detail::Overloaded;

double polygon_length(const Spline& spline) {
    double sum = 0.0;
    for (std::size_t i = 1; i < spline.poles.size(); ++i)
        sum += (spline.poles[i] - spline.poles[i - 1]).norm();
    return sum;
}

double ellipse_length(const EllipticalArc& arc) {
    // The integrand is smooth, but turns sharply at the ends of the major axis when the ellipse is
    // thin: bisection starts from the quadrants so that these are interval ends.
    const double semi_major = arc.major.norm();
    const double semi_minor = arc.ratio * semi_major;
    const auto speed = [&](double angle) {
        return std::hypot(semi_major * std::sin(angle), semi_minor * std::cos(angle));
    };
    const double from = std::min(arc.start_angle, arc.start_angle + arc.sweep);
    const double to = std::max(arc.start_angle, arc.start_angle + arc.sweep);
    const double quarter = 0.5 * pi;
    const double allowed_error = 1e-13 * semi_major * std::min(1.0, to - from);
    double sum = 0.0;
    double left = from;
    for (double quadrant = std::floor(from / quarter) + 1.0; left < to; quadrant += 1.0) {
        const double right = std::min(to, quadrant * quarter);
        if (right > left) sum += detail::integrate_adaptive(speed, left, right, allowed_error);
        left = std::max(left, right);
    }
    return sum;
}

double spline_length(const Spline& spline) {
    detail::require_consistent(spline);
    // Not finer than the rounding of the poles: where they fall on one point there is no more to
    // find.
    double largest = 0.0;
    for (const Point2& pole : spline.poles) largest = std::max(largest, pole.cwiseAbs().maxCoeff());
    const double allowed_error = std::max(1e-13 * polygon_length(spline), 1e-15 * largest);
    const auto speed = [&](double t) { return detail::evaluate(spline, t, 1).first.norm(); };
    double sum = 0.0;
    detail::for_each_span(spline, [&](int span) {
        sum += detail::integrate_adaptive(speed, spline.knots[span], spline.knots[span + 1],
                                          allowed_error);
    });
    return sum;
}

double spline_area(const Spline& spline, const Point2& pivot) {
    detail::require_consistent(spline);
    // Taken about the start, where the integrand is small, then moved to the pivot:
    // cross(c + q, dq) integrates to cross(c, end - start) + the integral of cross(q, dq). The
    // poles are moved, not the points: far from the origin a small spline would else be known less
    // well than the quadrature asks for, and be halved without end.
    const Point2 base = spline.poles.front();
    Spline near = spline;
    for (Point2& pole : near.poles) pole -= base;
    const auto integrand = [&](double t) {
        const detail::Jet jet = detail::evaluate(near, t, 1);
        return cross(jet.point, jet.first);
    };
    const double size = polygon_length(spline);
    double sum = 0.0;
    detail::for_each_span(spline, [&](int span) {
        const double from = spline.knots[span];
        const double to = spline.knots[span + 1];
        // A polynomial span of degree p gives an integrand of degree 2 p - 1: p nodes are exact.
        sum += spline.weights.empty()
                   ? detail::integrate_fixed(integrand, from, to, spline.degree)
                   : detail::integrate_adaptive(integrand, from, to, 1e-14 * size * size);
    });
    return 0.5 * (sum + cross(base - pivot, spline.poles.back() - base));
}

/// Calls visit(angle) for phase + each multiple of `step` strictly inside the sweep.
template <class Visitor>
void for_each_inner_angle(double start, double sweep, double phase, double step, Visitor&& visit) {
    const double low = std::min(start, start + sweep);
    const double high = std::max(start, start + sweep);
    for (double n = std::ceil((low - phase) / step); phase + n * step < high; n += 1.0)
        visit(phase + n * step);
}

Box2 arc_bounds(const Arc& arc) {
    Box2 box(point_at(arc, 0.0));
    box.extend(point_at(arc, 1.0));
    for_each_inner_angle(arc.start_angle, arc.sweep, 0.0, 0.5 * pi, [&](double angle) {
        // Exactly on the axes, without the rounding of sine and cosine.
        const int quadrant = static_cast<int>(std::llround(angle / (0.5 * pi)) & 3);
        const Vector2 axis = quadrant % 2 == 0 ? Vector2::UnitX() : Vector2::UnitY();
        box.extend(arc.center + (quadrant < 2 ? arc.radius : -arc.radius) * axis);
    });
    return box;
}

Box2 ellipse_bounds(const EllipticalArc& arc) {
    Box2 box(point_at(arc, 0.0));
    box.extend(point_at(arc, 1.0));
    const Vector2 minor = arc.ratio * Vector2(-arc.major.y(), arc.major.x());
    for (int axis = 0; axis < 2; ++axis) {
        // major_i cos a + minor_i sin a is extreme where tan a = minor_i / major_i.
        const double phase = std::atan2(minor[axis], arc.major[axis]);
        const double extent = std::hypot(minor[axis], arc.major[axis]);
        for_each_inner_angle(arc.start_angle, arc.sweep, phase, pi, [&](double angle) {
            const bool highest = (std::llround((angle - phase) / pi) & 1) == 0;
            const double value = arc.center[axis] + (highest ? extent : -extent);
            box.min()[axis] = std::min(box.min()[axis], value);
            box.max()[axis] = std::max(box.max()[axis], value);
        });
    }
    return box;
}

/// Raises `best` to the largest value of sign * coordinate on the piece, by branch and bound: the
/// curve lies in the hull of its control points, which closes in on it quadratically.
void raise_to_maximum(const BezierPiece& piece, int axis, double sign, double resolution, int depth,
                      double& best) {
    double highest = -std::numeric_limits<double>::infinity();
    for (int i = 0; i <= piece.degree; ++i)
        highest = std::max(highest, sign * piece.control_point(i)[axis]);
    if (!(highest > best + resolution) || depth == 0) return;
    BezierPiece left;
    BezierPiece right;
    piece.split(0.5, left, right);
    best = std::max(best, sign * left.end()[axis]);
    raise_to_maximum(left, axis, sign, resolution, depth - 1, best);
    raise_to_maximum(right, axis, sign, resolution, depth - 1, best);
}

Box2 spline_bounds(const Spline& spline) {
    detail::require_consistent(spline);
    Box2 box(spline.poles.front());
    box.extend(spline.poles.back());
    double size = 0.0;
    for (const Point2& pole : spline.poles) size = std::max(size, pole.cwiseAbs().maxCoeff());
    const double resolution = 4.0 * std::numeric_limits<double>::epsilon() * size;
    detail::for_each_span(spline, [&](int span) {
        bool inside = true;
        for (int i = span - spline.degree; i <= span; ++i)
            inside = inside && box.contains(spline.poles[i]);
        if (inside) return;
        const BezierPiece piece = detail::bezier_piece(spline, span);
        box.extend(piece.end());
        for (int axis = 0; axis < 2; ++axis) {
            double lowest = -box.min()[axis];
            raise_to_maximum(piece, axis, -1.0, resolution, 60, lowest);
            box.min()[axis] = -lowest;
            raise_to_maximum(piece, axis, 1.0, resolution, 60, box.max()[axis]);
        }
    });
    return box;
}

/// a - sin a without the cancellation of small angles (Taylor's series).
double angle_less_sine(double a) {
    if (std::abs(a) > 1.0) return a - std::sin(a);
    double term = a * a * a / 6.0, sum = 0.0;
    for (int n = 4; std::abs(term) > 1e-18 * std::abs(sum); n += 2) {
        sum += term;
        term *= -a * a / (n * (n + 1));
    }
    return sum;
}

/// The triangle over the chord and the segment beyond it: a sector from the centre, which loses all
/// digits for flat arcs, isn't needed. `squared` is the product of the semi-axes.
double arc_area(const Curve& arc, const Point2& pivot, double squared, double sweep) {
    const Vector2 start = point_at(arc, 0.0) - pivot, end = point_at(arc, 1.0) - pivot;
    return 0.5 * (cross(start, end) + squared * angle_less_sine(sweep));
}

}  // namespace

double length(const Curve& curve) {
    return std::visit(Overloaded{[](const Line& line) { return (line.end - line.start).norm(); },
                                 [](const Arc& arc) { return arc.radius * std::abs(arc.sweep); },
                                 [](const EllipticalArc& arc) { return ellipse_length(arc); },
                                 [](const Spline& spline) { return spline_length(spline); }},
                      curve);
}

double swept_area(const Curve& curve) { return swept_area(curve, Point2::Zero()); }

double swept_area(const Curve& curve, const Point2& pivot) {
    return std::visit(
        Overloaded{[&](const Line& line) {
                       return 0.5 * cross(line.start - pivot, line.end - line.start);
                   },
                   [&](const Arc& arc) {
                       return arc_area(arc, pivot, arc.radius * arc.radius, arc.sweep);
                   },
                   [&](const EllipticalArc& arc) {
                       return arc_area(arc, pivot, arc.ratio * arc.major.squaredNorm(), arc.sweep);
                   },
                   [&](const Spline& spline) { return spline_area(spline, pivot); }},
        curve);
}

Box2 bounds(const Curve& curve) {
    return std::visit(Overloaded{[](const Line& line) {
                                     Box2 box(line.start);
                                     box.extend(line.end);
                                     return box;
                                 },
                                 [](const Arc& arc) { return arc_bounds(arc); },
                                 [](const EllipticalArc& arc) { return ellipse_bounds(arc); },
                                 [](const Spline& spline) { return spline_bounds(spline); }},
                      curve);
}

}  // namespace planform
