#include <doctest/doctest.h>

#include <cmath>

#include "curve/shapes.hpp"

using namespace planform;
using doctest::Approx;

TEST_CASE("a full circle's box is exact") {
    const Box2 box = bounds(Curve(Arc{{10, 20}, 3.0, 0.123, 2 * pi}));
    CHECK(box.min() == Point2(7, 17));
    CHECK(box.max() == Point2(13, 23));
}

TEST_CASE("an arc's box has only the extremes that it passes") {
    // From 30 to 150 degrees either way round.
    const Box2 upper = bounds(Curve(Arc{{0, 0}, 2.0, pi / 6, 2 * pi / 3}));
    CHECK(upper.max().y() == 2.0);
    CHECK(upper.min().y() == Approx(1.0).epsilon(1e-15));
    CHECK(upper.max().x() == Approx(std::sqrt(3.0)).epsilon(1e-15));
    const Box2 lower = bounds(Curve(Arc{{0, 0}, 2.0, pi / 6, -4 * pi / 3}));
    CHECK(lower.max().y() == Approx(1.0).epsilon(1e-15));
    CHECK(lower.min() == Point2(-2, -2));
    CHECK(lower.max().x() == 2.0);
}

TEST_CASE("a turned ellipse's half-widths are sqrt(a^2 cos^2 + b^2 sin^2)") {
    const double angle = 0.6;
    const double a = 5.0;
    const double b = 1.5;
    const Curve ellipse =
        EllipticalArc{{1, 2}, {a * std::cos(angle), a * std::sin(angle)}, b / a, 2.0, -2 * pi};
    const Box2 box = bounds(ellipse);
    const double half_width = std::hypot(a * std::cos(angle), b * std::sin(angle));
    const double half_height = std::hypot(a * std::sin(angle), b * std::cos(angle));
    CHECK(box.min().x() == Approx(1 - half_width).epsilon(1e-14));
    CHECK(box.max().x() == Approx(1 + half_width).epsilon(1e-14));
    CHECK(box.min().y() == Approx(2 - half_height).epsilon(1e-14));
    CHECK(box.max().y() == Approx(2 + half_height).epsilon(1e-14));
}

TEST_CASE("a cubic's extremes are at the roots of its derivative") {
    // y = 3 t (1 - t) (1 - 2 t): roots of the derivative t = (3 -+ sqrt 3) / 6, y = -+ 1 / (2 sqrt
    // 3).
    const Curve cubic = Spline{3, {0, 0, 0, 0, 1, 1, 1, 1}, {{0, 0}, {1, 1}, {2, -1}, {3, 0}}, {}};
    const Box2 box = bounds(cubic);
    CHECK(box.max().y() == Approx(0.5 / std::sqrt(3.0)).epsilon(1e-14));
    CHECK(box.min().y() == Approx(-0.5 / std::sqrt(3.0)).epsilon(1e-14));
    CHECK(box.min().x() == 0.0);
    CHECK(box.max().x() == 3.0);
}

TEST_CASE("a rational circle's box is the circle's") {
    const Box2 box = bounds(shapes::nine_point_circle());
    CHECK((box.min() - Point2(-1, -1)).norm() < 1e-15);
    CHECK((box.max() - Point2(1, 1)).norm() < 1e-15);
}

TEST_CASE("boxes hold all samples and are touched by them") {
    std::mt19937 generator(7);
    for (const auto& [name, original] : shapes::all())
        for (int repeat = 0; repeat < 5; ++repeat) {
            CAPTURE(name);
            const Curve curve = transformed(original, shapes::random_map(generator));
            const Box2 box = bounds(curve);
            Box2 inner;
            for (const Point2& point : shapes::sampled(curve, 4000)) inner.extend(point);
            const double size = box.diagonal().norm();
            CHECK((inner.min() - box.min()).minCoeff() > -1e-13 * (size + 100.0));
            CHECK((box.max() - inner.max()).minCoeff() > -1e-13 * (size + 100.0));
            CHECK((inner.min() - box.min()).maxCoeff() < 1e-5 * size);
            CHECK((box.max() - inner.max()).maxCoeff() < 1e-5 * size);
        }
}
