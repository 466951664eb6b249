#include <doctest/doctest.h>

#include <cmath>

#include "curve/shapes.hpp"

using namespace planform;
using doctest::Approx;

TEST_CASE("circles and arcs have their closed forms") {
    const Curve circle = Arc{{30, -20}, 7.0, 0.3, 2 * pi};
    CHECK(length(circle) == Approx(14 * pi).epsilon(1e-15));
    CHECK(swept_area(circle) == Approx(49 * pi).epsilon(1e-13));
    CHECK(swept_area(reversed(circle)) == Approx(-49 * pi).epsilon(1e-13));
    // Sector about the centre: r^2 sweep / 2.
    CHECK(swept_area(Curve(Arc{{0, 0}, 3.0, 1.0, 0.5})) == Approx(2.25).epsilon(1e-15));
}

TEST_CASE("a quarter of the unit circle as a rational spline") {
    CHECK(length(shapes::quarter_circle()) == Approx(pi / 2).epsilon(1e-13));
    CHECK(swept_area(shapes::quarter_circle()) == Approx(pi / 4).epsilon(1e-14));
    CHECK(length(shapes::nine_point_circle()) == Approx(2 * pi).epsilon(1e-13));
    CHECK(swept_area(shapes::nine_point_circle()) == Approx(pi).epsilon(1e-14));
}

TEST_CASE("a small rational spline far from the origin") {
    // A quarter of a circle, as above. Its poles are rounded to 1e-11 mm here, 1e-5 of its size: a
    // quadrature that sees the rounding halves the spline a thousand million times.
    const Point2 center(1e5, -7e4);
    constexpr double radius = 1e-6;
    Spline quarter{2, {0, 0, 0, 1, 1, 1}, {{1, 0}, {1, 1}, {0, 1}}, {1, std::sqrt(0.5), 1}};
    for (Point2& pole : quarter.poles) pole = center + radius * pole;
    CHECK(swept_area(Curve(quarter), center) ==
          doctest::Approx(0.25 * pi * radius * radius).epsilon(1e-4));
}

TEST_CASE("ellipses: area pi a b, perimeter 4 a E(e)") {
    // Complete elliptic integral of the second kind from the standard library as the oracle.
    for (const double ratio : {1.0, 0.9, 0.5, 0.1, 0.01, 1e-4, 1e-6}) {
        CAPTURE(ratio);
        const double a = 12.5;
        const Curve ellipse = EllipticalArc{{3, 4}, {7.5, 10.0}, ratio, 0.7, -2 * pi};
        const double eccentricity = std::sqrt((1.0 - ratio) * (1.0 + ratio));
        CHECK(length(ellipse) == Approx(4 * a * std::comp_ellint_2(eccentricity)).epsilon(1e-12));
        CHECK(swept_area(ellipse, {3, 4}) == Approx(-pi * a * a * ratio).epsilon(1e-14));
    }
}

TEST_CASE("arcs of an ellipse: incomplete elliptic integral") {
    // From the end of the minor axis (angle 90 degrees) the length over phi is a E(e, phi).
    const double a = 5.0;
    const double ratio = 0.3;
    const double eccentricity = std::sqrt(1.0 - ratio * ratio);
    for (const double phi : {0.1, 0.8, 1.5, 3.0, 5.0}) {
        const Curve arc = EllipticalArc{{1, 1}, {a, 0}, ratio, pi / 2, phi};
        CHECK(length(arc) == Approx(a * std::ellint_2(eccentricity, phi)).epsilon(1e-12));
    }
}

TEST_CASE("a parabola as a quadratic spline") {
    // y = x^2 over [0, 1]: length sqrt(5)/2 + asinh(2)/4; area below 1/3, so that the fan from the
    // origin sweeps 1/2 - 1/3 = 1/6.
    const Curve parabola = Spline{2, {0, 0, 0, 1, 1, 1}, {{0, 0}, {0.5, 0}, {1, 1}}, {}};
    CHECK(length(parabola) == Approx(std::sqrt(5.0) / 2 + std::asinh(2.0) / 4).epsilon(1e-13));
    CHECK(swept_area(parabola) == Approx(1.0 / 6.0).epsilon(1e-15));
}

TEST_CASE("a cubic piece sweeps what its control polygon's formula says") {
    // Integrating products of Bernstein polynomials gives
    // (6 P0xP1 + 3 P0xP2 + P0xP3 + 3 P1xP2 + 3 P1xP3 + 6 P2xP3) / 20.
    const Point2 p0(1, 2), p1(4, 7), p2(9, -3), p3(6, 1);
    const Curve cubic = Spline{3, {0, 0, 0, 0, 2, 2, 2, 2}, {p0, p1, p2, p3}, {}};
    const double expected = (6 * cross(p0, p1) + 3 * cross(p0, p2) + cross(p0, p3) +
                             3 * cross(p1, p2) + 3 * cross(p1, p3) + 6 * cross(p2, p3)) /
                            20.0;
    CHECK(swept_area(cubic) == Approx(expected).epsilon(1e-14));
}

TEST_CASE("length and area add up over trimmed pieces") {
    for (const auto& [name, curve] : shapes::all()) {
        CAPTURE(name);
        double total_length = 0.0;
        double total_area = 0.0;
        const std::vector<double> cuts{0.0, 0.13, 0.4, 0.5, 0.81, 1.0};
        for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
            const Curve piece = trimmed(curve, shapes::parameter(curve, cuts[i]),
                                        shapes::parameter(curve, cuts[i + 1]));
            total_length += length(piece);
            total_area += swept_area(piece);
        }
        const double size = length(curve);
        CHECK(total_length == Approx(size).epsilon(1e-12));
        CHECK(std::abs(total_area - swept_area(curve)) < 1e-12 * size * (size + 200.0));
    }
}

TEST_CASE("length agrees with a fine polyline") {
    for (const auto& [name, curve] : shapes::all()) {
        CAPTURE(name);
        const std::vector<Point2> points = shapes::sampled(curve, 20000);
        double sum = 0.0;
        for (std::size_t i = 1; i < points.size(); ++i) sum += (points[i] - points[i - 1]).norm();
        CHECK(sum == Approx(length(curve)).epsilon(1e-6));
    }
}

TEST_CASE("a pivot shifts the swept area by a triangle") {
    for (const auto& [name, curve] : shapes::all()) {
        CAPTURE(name);
        const Point2 pivot(17, -5);
        const Vector2 advance = end_point(curve) - start_point(curve);
        CHECK(swept_area(curve, pivot) + 0.5 * cross(pivot, advance) ==
              Approx(swept_area(curve)).epsilon(1e-11));
    }
    // A circle a kilometre off keeps its digits about a near pivot.
    const Curve far = Arc{{1e6, -1e6}, 1.0, 0.0, 2 * pi};
    CHECK(swept_area(far, {1e6, -1e6}) == Approx(pi).epsilon(1e-13));
}

TEST_CASE("a spline whose poles are all one point has no length") {
    const Spline point{
        3, {0, 0, 0, 0, 1, 2, 2, 2, 2}, std::vector<Point2>(5, Point2(3.7, -1e5)), {}};
    CHECK(length(point) == doctest::Approx(0.0).epsilon(1e-9));
}

TEST_CASE("the area under a flat arc keeps its digits") {
    // Parabola of the same height over the chord: 2/3 of height times chord, off by (height /
    // chord)^2.
    const double chord = 20.0;
    for (const double height : {1e-2, 1e-4, 1e-6}) {
        const double radius = chord * chord / (8.0 * height) + height / 2.0;
        const double half = std::asin(0.5 * chord / radius);
        const Arc arc{{3.0, -radius}, radius, pi / 2.0 + half, -2.0 * half};
        const Curve line = Line{start_point(arc), end_point(arc)};
        const double segment = swept_area(line) - swept_area(arc);
        CHECK(segment == Approx(2.0 / 3.0 * height * chord).epsilon(1e-5));
        const EllipticalArc ellipse{{3.0, -radius}, {0.0, radius}, 1.0, half, -2.0 * half};
        CHECK(swept_area(ellipse) == Approx(swept_area(arc)).epsilon(1e-12));
    }
}
