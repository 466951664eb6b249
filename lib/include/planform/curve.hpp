#pragma once

/// Plane curves: exact lines, circular arcs, elliptical arcs and B-splines.
///
/// Every curve is directed and has a parameter over its domain: [0, 1] for lines and arcs,
/// [first knot, last knot] for splines. Lengths are millimetres, angles radians, counter-clockwise
/// positive. All values are immutable by convention: functions return new curves. Equal is what has
/// the same numbers.

#include <optional>
#include <variant>
#include <vector>

#include "planform/geometry.hpp"

namespace planform {

/// A straight piece: point(t) = start + t (end - start).
struct Line {
    Point2 start;
    Point2 end;

    bool operator==(const Line&) const = default;
};

/// A circular arc: point(t) = center + radius (cos a, sin a), a = start_angle + t sweep.
/// `sweep` is signed (positive is counter-clockwise), 0 < |sweep| <= 2 pi; a full circle has
/// |sweep| = 2 pi.
struct Arc {
    Point2 center;
    double radius;
    double start_angle;
    double sweep;

    bool operator==(const Arc&) const = default;
};

/// An elliptical arc: point(t) = center + major cos a + minor sin a, a = start_angle + t sweep,
/// where minor = ratio * (major turned by +90 degrees), 0 < ratio <= 1. `sweep` as for Arc.
/// Angles are those of the parametric (eccentric) angle, not polar angles.
struct EllipticalArc {
    Point2 center;
    Vector2 major;
    double ratio;
    double start_angle;
    double sweep;

    bool operator==(const EllipticalArc&) const = default;
};

/// A clamped B-spline, rational when `weights` is not empty (one weight > 0 a pole).
/// knots.size() == poles.size() + degree + 1; the first and last knot have multiplicity
/// degree + 1. Domain [knots.front(), knots.back()].
struct Spline {
    int degree = 0;
    std::vector<double> knots;
    std::vector<Point2> poles;
    std::vector<double> weights;

    bool operator==(const Spline&) const = default;
};

using Curve = std::variant<Line, Arc, EllipticalArc, Spline>;

/// Closed parameter interval, first < last.
struct Interval {
    double first;
    double last;
};

/// Does nothing for a curve that keeps the rules above; throws GeometryError (invalid_argument)
/// that names the rule otherwise: numbers that are not finite, a radius, ratio, sweep or weight out
/// of range, knots that don't fit the poles. Curves from files and from callers go through it; the
/// other functions rely on it.
void check_curve(const Curve& curve);

/// The parameter interval of a curve.
Interval domain(const Curve& curve);
/// Position at parameter t (t is clamped to the domain for splines only).
Point2 point_at(const Curve& curve, double t);
/// First derivative with respect to the parameter.
Vector2 derivative_at(const Curve& curve, double t);
/// Second derivative with respect to the parameter.
Vector2 second_derivative_at(const Curve& curve, double t);
Point2 start_point(const Curve& curve);
Point2 end_point(const Curve& curve);

/// Arc length in mm; closed form for lines and arcs, else adaptive Gauss-Legendre quadrature to
/// 1e-12 relative.
double length(const Curve& curve);
/// 1/2 of the integral of (x dy - y dx) along the curve, taken about the plane's origin: summed
/// over a closed contour it is the enclosed area in mm^2 (Green's theorem). Closed form for lines
/// and arcs and non-rational splines, else quadrature to 1e-13 relative.
double swept_area(const Curve& curve);
/// The same, taken about `pivot`: for closed contours far from the origin the sum loses no digits
/// when the pivot is near.
double swept_area(const Curve& curve, const Point2& pivot);
/// The smallest axis-parallel box that holds the curve (exact extrema, not poles).
Box2 bounds(const Curve& curve);

/// The same points in the other direction.
Curve reversed(const Curve& curve);
/// The piece between two parameters, from < to, both inside the domain. Ends are
/// point_at(from) and point_at(to). Throws GeometryError if from >= to.
Curve trimmed(const Curve& curve, double from, double to);
/// The image under an affine map. Similarities keep the kind; others turn an Arc into an
/// EllipticalArc; a collapsed arc (singular map) becomes a Line when it is monotone, else throws
/// GeometryError.
Curve transformed(const Curve& curve, const Transform2& transform);
/// A line whose ends are exact, an arc or spline that is moved so that its ends are the given
/// points; for displacements at the level of rounding only. Lines: ends replaced. Splines: first
/// and last pole replaced. Arcs: unchanged (an arc keeps its centre and radius).
Curve with_ends(const Curve& curve, const Point2& start, const Point2& end);

/// Ascending parameters, both domain ends included, such that the polyline through their points
/// stays within `tolerance` (mm) of the curve, in both directions (Hausdorff). Tolerances below
/// 1e-13 of the coordinates, their rounding, count as that. Throws GeometryError if tolerance is
/// not a positive finite number.
std::vector<double> chord_parameters(const Curve& curve, double tolerance);
/// Points of the curve at chord_parameters(curve, tolerance).
std::vector<Point2> points(const Curve& curve, double tolerance);

/// Parameter of the curve's point nearest to `target`, over the whole domain.
double nearest_parameter(const Curve& curve, const Point2& target);

/// Where two curves cross, found by Newton's method from a guess.
struct Crossing {
    double t;      ///< parameter on the first curve
    double u;      ///< parameter on the second curve
    Point2 point;  ///< the common point
};
/// The transversal crossing next to (t, u), or nothing if the iteration does not converge, leaves
/// the domains by more than `slack` times their length (lines, arcs and ellipses are taken as
/// unbounded there, splines are clamped), or the curves are tangent there.
std::optional<Crossing> refine_crossing(const Curve& first, double t, const Curve& second, double u,
                                        double slack = 1e-3);

/// The simplest curve within `tolerance` (mm) of the given one, same ends and direction: a spline
/// or ellipse that is a straight line, a circular or elliptical arc becomes one. Otherwise
/// unchanged.
Curve canonical(const Curve& curve, double tolerance);

/// Lines and circular arcs within `tolerance` (mm) of the curve, joined with continuous tangent
/// (biarcs; at a corner of the curve itself the corner stays). Lines and arcs come back as they
/// are. First start and last end are those of the curve to rounding. Tolerances below 1e-11 of the
/// coordinates count as that. Throws GeometryError if tolerance is not a positive finite number.
/// Source: D. S. Meek, D. J. Walton, "Approximating smooth planar curves by arc splines",
/// J. Comput. Appl. Math. 59 (1995).
std::vector<Curve> fit_arcs(const Curve& curve, double tolerance);

}  // namespace planform
