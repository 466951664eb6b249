/// The simplest curve within a tolerance: line before circular arc before elliptical arc.
///
/// A candidate is laid through a few points of the curve, which are spread over it and include its
/// ends; a few more points throw out most curves at once; what is left is checked by dense samples
/// for distance and for running steadily one way.

#include <Eigen/Eigenvalues>
#include <Eigen/QR>
#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "curve/angles.hpp"
#include "curve/spline.hpp"
#include "planform/curve.hpp"

namespace planform {
namespace {

/// Ends may move by this much, relative to the curve's size, whatever the tolerance: a contour
/// whose curves are replaced one by one has to stay closed.
constexpr double end_resolution = 1e-7;
/// Longest elliptical axis that is looked for, relative to the curve's size; beyond it the five
/// points no longer tell an ellipse from a parabola.
constexpr double longest_axis = 1e4;
/// Longest radius of a circle, relative to the curve's size: the ends of an arc are known to the
/// rounding of its radius, its area to that of the radius' square.
constexpr double longest_radius = 1e3;

/// What is known of the curve before candidates are tried.
struct Subject {
    const Curve& curve;
    Interval range;
    double tolerance;
    std::array<Point2, 9> probes;  ///< evenly in the parameter, ends included
    double size;                   ///< extent of the probes
    bool closed;

    Point2 at(double fraction) const {
        return point_at(curve, range.first + fraction * (range.last - range.first));
    }
    double end_tolerance() const { return std::min(tolerance, end_resolution * size); }
};

Subject make_subject(const Curve& curve, double tolerance) {
    Subject subject{curve, domain(curve), tolerance, {}, 0.0, false};
    Box2 box;
    for (int i = 0; i < 9; ++i) {
        subject.probes[i] = subject.at(i / 8.0);
        box.extend(subject.probes[i]);
    }
    subject.size = box.diagonal().norm();
    subject.closed = (end_point(curve) - start_point(curve)).norm() <= 1e-9 * subject.size;
    return subject;
}

/// False if the probes show a turn to the left and one to the right, neither of which the tolerance
/// could have made: the curve is then no part of a circle or ellipse.
bool may_turn_one_way(const Subject& subject) {
    double least = 0.0;
    double most = 0.0;
    for (int i = 1; i < 8; ++i) {
        const Vector2 before = subject.probes[i] - subject.probes[i - 1];
        const Vector2 after = subject.probes[i + 1] - subject.probes[i];
        // Height of the middle one of three probes over the chord of the others.
        const double height = cross(before, after) / (before + after).norm();
        least = std::min(least, height);
        most = std::max(most, height);
    }
    const double reach = 4.0 * subject.tolerance;
    return least >= -reach || most <= reach;
}

/// Points of the curve in order, ends included: more of them a span than the distance from a line
/// or circle (a polynomial of degree 2 p on a span) has turning points.
std::vector<Point2> dense_samples(const Subject& subject) {
    std::vector<Point2> samples{start_point(subject.curve)};
    const auto append = [&](double from, double to, int count) {
        for (int i = 1; i <= count; ++i)
            samples.push_back(point_at(subject.curve, from + (to - from) * i / count));
    };
    if (const Spline* spline = std::get_if<Spline>(&subject.curve)) {
        detail::for_each_span(*spline, [&](int span) {
            append(spline->knots[span], spline->knots[span + 1], 4 * spline->degree + 4);
        });
    } else {
        append(subject.range.first, subject.range.last, 96);
    }
    samples.back() = end_point(subject.curve);
    return samples;
}

// --- lines ---------------------------------------------------------------------------------------

std::optional<Curve> as_line(const Subject& subject) {
    const Line line{start_point(subject.curve), end_point(subject.curve)};
    const Vector2 chord = line.end - line.start;
    const double length = chord.norm();
    if (!(length > 0.0)) return std::nullopt;
    const auto is_near = [&](const Point2& point) {
        const Vector2 offset = point - line.start;
        const double along = offset.dot(chord) / length;
        return std::abs(cross(chord, offset)) <= subject.tolerance * length &&
               along >= -subject.tolerance && along <= length + subject.tolerance;
    };
    for (const double fraction : {0.5, 0.25, 0.75})
        if (!is_near(subject.at(fraction))) return std::nullopt;
    double furthest = 0.0;
    for (const Point2& point : dense_samples(subject)) {
        const double along = (point - line.start).dot(chord) / length;
        if (!is_near(point) || along < furthest - subject.tolerance) return std::nullopt;
        furthest = std::max(furthest, along);
    }
    return line;
}

// --- circles and ellipses ------------------------------------------------------------------------

/// A frame in which the candidate is the unit circle: x -> matrix (x - center).
struct UnitCircleFrame {
    Point2 center;
    Eigen::Matrix2d matrix;
    double shortest_axis;
    double longest_axis;

    Vector2 map(const Point2& point) const { return matrix * (point - center); }
    /// Bound on the distance of a point from the candidate: the way along the ray from the centre.
    double distance(const Point2& point) const {
        const double reach = map(point).norm();
        return reach > 0.0 ? std::abs(reach - 1.0) / reach * (point - center).norm()
                           : shortest_axis;
    }
};

/// The signed angle that the curve runs through in the frame, if it stays within tolerance of the
/// unit circle and never turns back.
std::optional<double> swept_angle(const Subject& subject, const UnitCircleFrame& frame) {
    for (const double fraction : {0.125, 0.375, 0.625, 0.875})
        if (frame.distance(subject.at(fraction)) > subject.tolerance) return std::nullopt;
    constexpr double rounding = 1e-9;
    // On a large circle even a tiny angle is a long way back.
    const double backlash = std::min(rounding, subject.tolerance / frame.longest_axis);
    constexpr double longest_step = 0.5 * pi;
    double total = 0.0;
    double lowest = 0.0;
    double highest = 0.0;
    Vector2 before = frame.map(start_point(subject.curve));
    for (const Point2& point : dense_samples(subject)) {
        if (frame.distance(point) > subject.tolerance) return std::nullopt;
        const Vector2 now = frame.map(point);
        const double step = std::atan2(cross(before, now), before.dot(now));
        if (std::abs(step) > longest_step) return std::nullopt;
        lowest = std::min(lowest, step);
        highest = std::max(highest, step);
        total += step;
        before = now;
    }
    if (lowest < -backlash && highest > backlash) return std::nullopt;
    if (subject.closed != (std::abs(total) > full_turn - rounding)) return std::nullopt;
    if (std::abs(total) > full_turn + rounding || total == 0.0) return std::nullopt;
    return subject.closed ? std::copysign(full_turn, total) : total;
}

/// The replacement, if its ends are those of the curve.
std::optional<Curve> with_same_ends(const Subject& subject, const Curve& candidate) {
    const double reach = subject.end_tolerance();
    if ((start_point(candidate) - start_point(subject.curve)).norm() > reach ||
        (end_point(candidate) - end_point(subject.curve)).norm() > reach)
        return std::nullopt;
    return candidate;
}

/// Centre of the circle through three points; nothing if they are (nearly) on one line.
std::optional<Point2> circumcenter(const Point2& a, const Point2& b, const Point2& c) {
    const Vector2 u = b - a;
    const Vector2 v = c - a;
    const double doubled = 2.0 * cross(u, v);
    if (std::abs(doubled) <= 1e-12 * u.norm() * v.norm()) return std::nullopt;
    const double uu = u.squaredNorm();
    const double vv = v.squaredNorm();
    return a + Vector2(v.y() * uu - u.y() * vv, u.x() * vv - v.x() * uu) / doubled;
}

std::optional<Curve> as_arc(const Subject& subject) {
    const Point2 start = start_point(subject.curve);
    const std::optional<Point2> center =
        subject.closed ? circumcenter(start, subject.at(1.0 / 3.0), subject.at(2.0 / 3.0))
                       : circumcenter(start, subject.at(0.5), end_point(subject.curve));
    if (!center) return std::nullopt;
    const Vector2 outward = start - *center;
    const double radius = outward.norm();
    if (radius > longest_radius * subject.size) return std::nullopt;
    const UnitCircleFrame frame{*center, Eigen::Matrix2d::Identity() / radius, radius, radius};
    const std::optional<double> sweep = swept_angle(subject, frame);
    if (!sweep) return std::nullopt;
    return with_same_ends(subject,
                          Arc{*center, radius, std::atan2(outward.y(), outward.x()), *sweep});
}

struct Ellipse {
    Point2 center;
    Vector2 major;
    double ratio;
};

/// The ellipse through five points, if the conic through them is one: the null vector of the
/// five equations A x^2 + B x y + C y^2 + D x + E y + F = 0, in coordinates that are centred and
/// scaled to keep the system well-conditioned; axes from the eigenvectors of its quadratic form.
std::optional<Ellipse> ellipse_through(const std::array<Point2, 5>& points) {
    Point2 middle = Point2::Zero();
    for (const Point2& point : points) middle += point / 5.0;
    double scale = 0.0;
    for (const Point2& point : points) scale = std::max(scale, (point - middle).norm());
    if (!(scale > 0.0)) return std::nullopt;
    Eigen::Matrix<double, 6, 5> transposed;
    for (int i = 0; i < 5; ++i) {
        const Vector2 p = (points[i] - middle) / scale;
        transposed.col(i) << p.x() * p.x(), p.x() * p.y(), p.y() * p.y(), p.x(), p.y(), 1.0;
    }
    // The last column of Q is perpendicular to all five equations.
    const Eigen::HouseholderQR<Eigen::Matrix<double, 6, 5>> decomposition(transposed);
    Eigen::Matrix<double, 6, 1> conic = Eigen::Matrix<double, 6, 1>::Unit(5);
    conic.applyOnTheLeft(decomposition.householderQ());
    Eigen::Matrix2d form;
    form << conic[0], 0.5 * conic[1], 0.5 * conic[1], conic[2];
    if (!(form.determinant() > 0.0)) return std::nullopt;
    const Vector2 center = form.inverse() * Vector2(-0.5 * conic[3], -0.5 * conic[4]);
    const double level = center.dot(form * center) - conic[5];
    const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> axes(form / level);
    const Vector2 curvatures = axes.eigenvalues();  // 1 / (semi-axis)^2, ascending
    if (!(curvatures[0] > 1.0 / (longest_axis * longest_axis))) return std::nullopt;
    return Ellipse{middle + scale * center,
                   scale / std::sqrt(curvatures[0]) * axes.eigenvectors().col(0),
                   std::sqrt(curvatures[0] / curvatures[1])};
}

std::optional<Curve> as_ellipse(const Subject& subject) {
    std::array<Point2, 5> chosen;
    for (int i = 0; i < 5; ++i) chosen[i] = subject.at(i / (subject.closed ? 5.0 : 4.0));
    const std::optional<Ellipse> ellipse = ellipse_through(chosen);
    if (!ellipse || !(ellipse->ratio > 0.0)) return std::nullopt;
    const double semi_major = ellipse->major.norm();
    const Vector2 along = ellipse->major / semi_major;
    UnitCircleFrame frame{ellipse->center, Eigen::Matrix2d::Identity(), ellipse->ratio * semi_major,
                          semi_major};
    frame.matrix.row(0) = along.transpose() / semi_major;
    frame.matrix.row(1) = Vector2(-along.y(), along.x()).transpose() / frame.shortest_axis;
    const std::optional<double> sweep = swept_angle(subject, frame);
    if (!sweep) return std::nullopt;
    const Vector2 start = frame.map(start_point(subject.curve));
    return with_same_ends(
        subject, EllipticalArc{ellipse->center, ellipse->major, std::min(1.0, ellipse->ratio),
                               std::atan2(start.y(), start.x()), *sweep});
}

}  // namespace

Curve canonical(const Curve& curve, double tolerance) {
    if (std::holds_alternative<Line>(curve) || std::holds_alternative<Arc>(curve)) return curve;
    const Subject subject = make_subject(curve, tolerance);
    if (const std::optional<Curve> line = as_line(subject)) return *line;
    if (!may_turn_one_way(subject)) return curve;
    if (const std::optional<Curve> arc = as_arc(subject)) return *arc;
    if (std::holds_alternative<Spline>(curve))
        if (const std::optional<Curve> ellipse = as_ellipse(subject)) return *ellipse;
    return curve;
}

}  // namespace planform
