#include <doctest/doctest.h>

#include <cmath>

#include "curve/shapes.hpp"

using namespace planform;
using doctest::Approx;

TEST_CASE("lines and circles cross where geometry says") {
    const auto lines = refine_crossing(Line{{0, 0}, {4, 4}}, 0.3, Line{{0, 2}, {4, 2}}, 0.6);
    REQUIRE(lines);
    CHECK((lines->point - Point2(2, 2)).norm() < 1e-15);
    CHECK(lines->t == Approx(0.5));

    const Arc circle{{0, 0}, 5.0, 0.0, 2 * pi};
    const auto chord = refine_crossing(Line{{-10, 3}, {10, 3}}, 0.68, circle, 0.1);
    REQUIRE(chord);
    CHECK((chord->point - Point2(4, 3)).norm() < 1e-14);
    CHECK(chord->point.y() == 3.0);

    // Circles about (0,0) and (8,0), both with radius 5: crossings (4, +-3).
    const Arc other{{8, 0}, 5.0, 0.0, 2 * pi};
    const auto circles = refine_crossing(circle, 0.12, other, 0.38);
    REQUIRE(circles);
    CHECK((circles->point - Point2(4, 3)).norm() < 1e-14);
}

TEST_CASE("a crossing of any two kinds is on both curves to the last digits") {
    // Each curve is moved so that the point at its middle lies on the other's, at right angles or
    // nearly.
    int found = 0;
    for (const auto& [first_name, first] : shapes::all())
        for (const auto& [second_name, second] : shapes::all()) {
            CAPTURE(first_name);
            CAPTURE(second_name);
            const double t = shapes::parameter(first, 0.37);
            const double u = shapes::parameter(second, 0.61);
            const Vector2 a = derivative_at(first, t);
            const Vector2 b = derivative_at(second, u);
            Transform2 move = Transform2::Identity();
            move.linear() =
                Eigen::Rotation2Dd(std::atan2(a.y(), a.x()) - std::atan2(b.y(), b.x()) + 1.3)
                    .toRotationMatrix();
            move.translation() = point_at(first, t) - move.linear() * point_at(second, u);
            const Curve moved = transformed(second, move);
            const auto crossing = refine_crossing(first, t + 0.004, moved, u - 0.003);
            REQUIRE(crossing);
            const double size = 1.0 + crossing->point.cwiseAbs().maxCoeff();
            CHECK((crossing->point - point_at(first, t)).norm() < 3e-13 * size);
            CHECK((point_at(first, crossing->t) - point_at(moved, crossing->u)).norm() <
                  1e-13 * size);
            ++found;
        }
    CHECK(found == static_cast<int>(shapes::all().size() * shapes::all().size()));
}

TEST_CASE("tangent, parallel and absent crossings give nothing") {
    CHECK_FALSE(refine_crossing(Line{{-1, 1}, {1, 1}}, 0.5, Arc{{0, 0}, 1.0, 0.0, pi}, 0.5));
    CHECK_FALSE(refine_crossing(Line{{0, 0}, {1, 0}}, 0.5, Line{{0, 1}, {1, 1}}, 0.5));
    CHECK_FALSE(refine_crossing(Line{{-1, 3}, {1, 3}}, 0.5, Arc{{0, 0}, 1.0, 0.0, pi}, 0.4));
}

TEST_CASE("slack bounds how far beyond an end a crossing may lie") {
    const Line first{{0, 0}, {1, 0}};
    const Line beyond{{1.0005, -1}, {1.0005, 1}};
    const auto near = refine_crossing(first, 1.0, beyond, 0.5);
    REQUIRE(near);
    CHECK(near->t == Approx(1.0005));
    CHECK_FALSE(refine_crossing(first, 1.0, Line{{1.1, -1}, {1.1, 1}}, 0.5));
    CHECK(refine_crossing(first, 1.0, Line{{1.1, -1}, {1.1, 1}}, 0.5, 0.2));
    // Splines are clamped: beyond their end there is nothing to cross.
    const Spline straight{1, {0, 0, 1, 1}, {{0, 0}, {1, 0}}, {}};
    CHECK_FALSE(refine_crossing(straight, 1.0, beyond, 0.5, 0.2));
    CHECK(refine_crossing(straight, 0.9, Line{{1, -1}, {1, 1}}, 0.4));
}
