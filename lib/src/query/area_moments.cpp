/// Area, first and second moments. For f homogeneous of degree k the integral of f over an area is
/// 1 / (k + 2) times that of f (x dy - y dx) along its boundary (Green's theorem with the field
/// f (x, y) / (k + 2), whose divergence is f by Euler's theorem on homogeneous functions).

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "curve/quadrature.hpp"
#include "curve/spline.hpp"
#include "planform/query.hpp"

namespace planform {

namespace {

/// The integrals of 1, x, y, x x, x y, y y.
using Sums = Eigen::Array<double, 6, 1>;

Sums monomials(const Point2& point) {
    const double x = point.x(), y = point.y();
    return (Sums() << 1.0, x, y, x * x, x * y, y * y).finished();
}

/// 1 / (k + 2).
Sums shares() { return (Sums() << 0.5, 1.0 / 3.0, 1.0 / 3.0, 0.25, 0.25, 0.25).finished(); }

/// C. Steger, "On the calculation of moments of polygons", report FGBV-96-04, Technische
/// Universitaet Muenchen, 1996.
Sums of_line(const Point2& a, const Point2& b) {
    Sums sums;
    sums << 0.5, (a.x() + b.x()) / 6.0, (a.y() + b.y()) / 6.0,
        (a.x() * a.x() + a.x() * b.x() + b.x() * b.x()) / 12.0,
        (2.0 * a.x() * a.y() + a.x() * b.y() + b.x() * a.y() + 2.0 * b.x() * b.y()) / 24.0,
        (a.y() * a.y() + a.y() * b.y() + b.y() * b.y()) / 12.0;
    return sums * cross(a, b);
}

/// By quadrature between two parameters; `fixed` nodes, or as many as it takes for 0.
Sums between(const Curve& curve, double from, double to, const Point2& pivot, int fixed,
             double size) {
    Sums sums;
    for (int k = 0; k < 6; ++k) {
        const auto integrand = [&](double t) {
            const Point2 place = point_at(curve, t) - pivot;
            return monomials(place)[k] * cross(place, derivative_at(curve, t));
        };
        const int degree = k == 0 ? 2 : k < 3 ? 3 : 4;
        sums[k] = fixed > 0 ? detail::integrate_fixed(integrand, from, to, fixed)
                            : detail::integrate_adaptive(integrand, from, to,
                                                         1e-14 * std::pow(size, degree));
    }
    return sums * shares();
}

/// Products of sines and cosines of up to four times the angle: twelve nodes a quarter turn give
/// them to the last digit.
Sums of_turn(const Curve& curve, double sweep, const Point2& pivot) {
    const int parts = std::max(1, static_cast<int>(std::ceil(std::abs(sweep) / (0.5 * pi))));
    Sums sums = Sums::Zero();
    for (int i = 0; i < parts; ++i)
        sums += between(curve, double(i) / parts, double(i + 1) / parts, pivot, 12, 0.0);
    return sums;
}

Sums of_spline(const Spline& spline, const Point2& pivot) {
    double size = 0.0;
    for (const Point2& pole : spline.poles) size = std::max(size, (pole - pivot).norm());
    // A span of degree p gives an integrand of degree 4 p - 1: 2 p nodes are exact.
    constexpr int most_nodes = 12;
    const bool exact = spline.weights.empty() && 2 * spline.degree <= most_nodes;
    Sums sums = Sums::Zero();
    detail::for_each_span(spline, [&](int span) {
        const auto at = static_cast<std::size_t>(span);
        sums += between(spline, spline.knots[at], spline.knots[at + 1], pivot,
                        exact ? 2 * spline.degree : 0, size);
    });
    return sums;
}

Sums of_curve(const Curve& curve, const Point2& pivot) {
    if (const Line* line = std::get_if<Line>(&curve))
        return of_line(line->start - pivot, line->end - pivot);
    if (const Arc* arc = std::get_if<Arc>(&curve)) return of_turn(curve, arc->sweep, pivot);
    if (const EllipticalArc* arc = std::get_if<EllipticalArc>(&curve))
        return of_turn(curve, arc->sweep, pivot);
    return of_spline(std::get<Spline>(curve), pivot);
}

Sums of_contour(const Contour& contour, const Point2& pivot) {
    Sums sums = Sums::Zero();
    const std::vector<Curve>& curves = contour.curves();
    for (std::size_t i = 0; i < curves.size(); ++i) {
        sums += of_curve(curves[i], pivot);
        const Curve& next = curves[(i + 1) % curves.size()];
        sums += of_line(end_point(curves[i]) - pivot, start_point(next) - pivot);
    }
    return sums;
}

}  // namespace

AreaMoments area_moments(const ProfileSet& set) {
    Box2 box;
    for (const Profile& profile : set.profiles()) box.extend(profile.bounds());
    AreaMoments moments;
    moments.centroid.setConstant(std::numeric_limits<double>::quiet_NaN());
    moments.second.setConstant(std::numeric_limits<double>::quiet_NaN());
    if (box.isEmpty()) return moments;
    // About the middle: far from the origin digits would be lost.
    const Point2 pivot = box.center();
    Sums sums = Sums::Zero();
    for (const Profile& profile : set.profiles()) {
        sums += of_contour(profile.outer(), pivot);
        for (const Contour& hole : profile.holes()) sums += of_contour(hole, pivot);
    }
    moments.area = sums[0];
    const Vector2 offset(sums[1] / sums[0], sums[2] / sums[0]);
    moments.centroid = pivot + offset;
    // Parallel axes (Steiner's theorem).
    moments.second << sums[3], sums[4], sums[4], sums[5];
    moments.second -= sums[0] * offset * offset.transpose();
    return moments;
}

}  // namespace planform
