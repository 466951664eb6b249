#include <doctest/doctest.h>

#include "curve/shapes.hpp"
#include "planform/error.hpp"

using namespace planform;

TEST_CASE("lines and arcs follow their definitions") {
    const Curve line = Line{{1, 2}, {5, -6}};
    CHECK((point_at(line, 0.25) - Point2(2, 0)).norm() < 1e-15);
    CHECK(point_at(line, 0.0) == Point2(1, 2));
    CHECK(point_at(line, 1.0) == Point2(5, -6));
    CHECK(derivative_at(line, 0.7) == Vector2(4, -8));

    const Curve arc = Arc{{1, 1}, 2.0, pi / 2, -pi};
    CHECK((start_point(arc) - Point2(1, 3)).norm() < 1e-15);
    CHECK((point_at(arc, 0.5) - Point2(3, 1)).norm() < 1e-15);
    CHECK((end_point(arc) - Point2(1, -1)).norm() < 1e-15);
    CHECK((derivative_at(arc, 0.5) - Vector2(0, -2 * pi)).norm() < 1e-14);

    // Minor axis 90 degrees left of the major: (0, 4) turned is (-4, 0), times 1/2.
    const Curve ellipse = EllipticalArc{{1, 0}, {0, 4}, 0.5, 0.0, pi};
    CHECK((start_point(ellipse) - Point2(1, 4)).norm() < 1e-15);
    CHECK((point_at(ellipse, 0.5) - Point2(-1, 0)).norm() < 1e-15);
    CHECK((end_point(ellipse) - Point2(1, -4)).norm() < 1e-15);
}

TEST_CASE("a rational quarter circle stays on the circle (The NURBS Book, section 1.4)") {
    const Curve quarter = shapes::quarter_circle();
    for (int i = 0; i <= 100; ++i)
        CHECK(point_at(quarter, i / 100.0).norm() == doctest::Approx(1.0).epsilon(1e-15));
    CHECK((point_at(quarter, 0.5) - Point2(std::sqrt(0.5), std::sqrt(0.5))).norm() < 1e-15);
    // End derivative p w1 / w0 (P1 - P0): The NURBS Book, eq. (4.9) (from memory).
    CHECK((derivative_at(quarter, 0.0) - Vector2(0, 2.0 * std::sqrt(0.5))).norm() < 1e-14);
}

TEST_CASE("a spline of degree 25 is its Bernstein polynomial") {
    Spline spline;
    spline.degree = 25;
    spline.knots.assign(26, -1.0);
    spline.knots.insert(spline.knots.end(), 26, 3.0);
    for (int i = 0; i <= 25; ++i) spline.poles.push_back({i / 25.0, i == 10 ? 1.0 : 0.0});
    // x is linear (Greville abscissae), y is the Bernstein polynomial B_10 of degree 25.
    const double s = 0.37;
    const double binomial = 3268760.0;  // 25 over 10
    const Point2 point = point_at(spline, -1.0 + 4.0 * s);
    CHECK(point.x() == doctest::Approx(s).epsilon(1e-14));
    CHECK(point.y() ==
          doctest::Approx(binomial * std::pow(s, 10) * std::pow(1 - s, 15)).epsilon(1e-13));
}

TEST_CASE("derivatives agree with differences") {
    const double h = 1e-5;
    for (const auto& [name, curve] : shapes::all()) {
        CAPTURE(name);
        for (const double fraction : {0.03, 0.31, 0.456, 0.77, 0.97}) {
            const double t = shapes::parameter(curve, fraction);
            const Vector2 first = (point_at(curve, t + h) - point_at(curve, t - h)) / (2 * h);
            const Vector2 second =
                (derivative_at(curve, t + h) - derivative_at(curve, t - h)) / (2 * h);
            const double scale = 1.0 + second_derivative_at(curve, t).norm();
            CHECK((first - derivative_at(curve, t)).norm() < 1e-6 * scale);
            CHECK((second - second_derivative_at(curve, t)).norm() < 1e-5 * scale);
        }
    }
}

TEST_CASE("splines interpolate their clamped ends and are clamped outside") {
    const Curve wave = shapes::wave();
    CHECK(domain(wave).first == 0.0);
    CHECK(domain(wave).last == 5.0);
    CHECK(point_at(wave, 0.0) == Point2(0, 0));
    CHECK(point_at(wave, 5.0) == Point2(9, 1));
    CHECK(point_at(wave, 6.0) == Point2(9, 1));
    CHECK(point_at(wave, -1.0) == Point2(0, 0));
}

TEST_CASE("splines whose parts don't fit are refused") {
    Spline too_few_knots = shapes::wave();
    too_few_knots.knots.pop_back();
    CHECK_THROWS_AS(point_at(too_few_knots, 1.0), GeometryError);
    Spline too_few_weights = shapes::wave();
    too_few_weights.weights = {1.0, 1.0};
    CHECK_THROWS_AS(length(too_few_weights), GeometryError);
    Spline degree_26;
    degree_26.degree = 26;
    degree_26.knots.assign(27, 0.0);
    degree_26.knots.insert(degree_26.knots.end(), 27, 1.0);
    degree_26.poles.assign(27, Point2(1, 1));
    CHECK_THROWS_AS(derivative_at(degree_26, 0.5), GeometryError);
}
