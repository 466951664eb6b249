#include <doctest/doctest.h>

#include <cmath>

#include "curve/shapes.hpp"

using namespace planform;
using doctest::Approx;

namespace {

/// The cubic with the tangents of a unit quarter circle and handles k; k = 4/3 tan(pi/8) meets the
/// circle at the middle, with an error of 2.7e-4 (closed form from memory).
Spline cubic_quarter() {
    const double k = 4.0 / 3.0 * std::tan(pi / 8);
    return {3, {0, 0, 0, 0, 1, 1, 1, 1}, {{1, 0}, {1, k}, {k, 1}, {0, 1}}, {}};
}

}  // namespace

TEST_CASE("a straight spline becomes a line") {
    const Spline spline{2, {0, 0, 0, 1, 2, 2, 2}, {{0, 0}, {1, 0.5}, {3, 1.5}, {8, 4}}, {}};
    const Line line = std::get<Line>(canonical(spline, 1e-9));
    CHECK(line.start == Point2(0, 0));
    CHECK(line.end == Point2(8, 4));
    // Running to and fro on the line is not a line.
    const Spline back{2, {0, 0, 0, 1, 2, 2, 2}, {{0, 0}, {9, 0}, {1, 0}, {8, 0}}, {}};
    CHECK(std::holds_alternative<Spline>(canonical(back, 1e-9)));
}

TEST_CASE("rational circles become arcs and full circles, either way round") {
    const Arc quarter = std::get<Arc>(canonical(shapes::quarter_circle(), 1e-9));
    CHECK(quarter.center.norm() < 1e-15);
    CHECK(quarter.radius == Approx(1.0).epsilon(1e-15));
    CHECK(quarter.sweep == Approx(pi / 2).epsilon(1e-15));
    const Arc full = std::get<Arc>(canonical(shapes::nine_point_circle(), 1e-9));
    CHECK(full.sweep == 2 * pi);
    CHECK(full.center.norm() < 1e-14);
    const Arc clockwise = std::get<Arc>(canonical(reversed(shapes::nine_point_circle()), 1e-9));
    CHECK(clockwise.sweep == -2 * pi);
}

TEST_CASE("affine images of circles become ellipses that sweep the same area") {
    std::mt19937 generator(23);
    for (int repeat = 0; repeat < 20; ++repeat) {
        const Curve spline =
            transformed(shapes::nine_point_circle(), shapes::random_map(generator));
        const Curve ellipse = canonical(spline, 1e-9);
        REQUIRE(std::holds_alternative<EllipticalArc>(ellipse));
        CHECK(swept_area(ellipse) == Approx(swept_area(spline)).epsilon(1e-10));
        CHECK(length(ellipse) == Approx(length(spline)).epsilon(1e-10));
        const Curve piece = trimmed(spline, 0.3, 2.9);
        const Curve arc = canonical(piece, 1e-9);
        REQUIRE(std::holds_alternative<EllipticalArc>(arc));
        CHECK((start_point(arc) - start_point(piece)).norm() < 1e-10);
        CHECK((end_point(arc) - end_point(piece)).norm() < 1e-10);
        CHECK(length(arc) == Approx(length(piece)).epsilon(1e-9));
    }
}

TEST_CASE("the tolerance decides") {
    CHECK(std::holds_alternative<Arc>(canonical(cubic_quarter(), 3e-4)));
    CHECK(std::holds_alternative<Spline>(canonical(cubic_quarter(), 1e-6)));
    CHECK(std::holds_alternative<Arc>(
        canonical(EllipticalArc{{1, 1}, {5, 0}, 1 - 1e-9, 0.2, 2 * pi}, 1e-7)));
    CHECK(std::holds_alternative<EllipticalArc>(
        canonical(EllipticalArc{{1, 1}, {5, 0}, 0.99, 0.2, 2 * pi}, 1e-3)));
    // A thin half ellipse from end to end of the major axis is a line, one that turns there is not.
    const EllipticalArc half{{0, 0}, {5, 0}, 1e-9, 0.0, pi};
    CHECK(std::holds_alternative<Line>(canonical(half, 1e-6)));
    const EllipticalArc turning{{0, 0}, {5, 0}, 1e-9, 1.0, pi};
    CHECK(std::holds_alternative<EllipticalArc>(canonical(turning, 1e-6)));
}

TEST_CASE("other curves stay as they are") {
    for (const Curve& curve :
         {Curve(shapes::wave()), Curve(shapes::kinked()), Curve(shapes::cusped()),
          Curve(shapes::closed_quintic()), Curve(shapes::rational_wave())})
        CHECK(std::holds_alternative<Spline>(canonical(curve, 1e-3)));
    const Arc flat{{0, 1e6}, 1e6, -pi / 2, 1e-7};
    CHECK(std::holds_alternative<Arc>(canonical(flat, 1.0)));
}

TEST_CASE("what comes out is within tolerance, with the same ends and direction") {
    std::mt19937 generator(29);
    std::uniform_real_distribution<double> wobble(-1e-3, 1e-3);
    int simplified = 0;
    for (int repeat = 0; repeat < 60; ++repeat) {
        Spline spline = repeat % 2 == 0 ? shapes::nine_point_circle() : shapes::quarter_circle();
        for (std::size_t i = 1; i + 1 < spline.poles.size(); ++i)
            spline.poles[i] += Vector2(wobble(generator), wobble(generator));
        const double tolerance = 2e-3;
        const Curve simplest = canonical(spline, tolerance);
        if (!std::holds_alternative<Spline>(simplest)) ++simplified;
        CHECK((start_point(simplest) - start_point(spline)).norm() < 1e-6);
        CHECK((end_point(simplest) - end_point(spline)).norm() < 1e-6);
        CHECK(swept_area(simplest) * swept_area(spline) > 0.0);
        const auto dense = shapes::sampled(spline, 1000);
        const auto replaced = shapes::sampled(simplest, 1000);
        CHECK(shapes::one_sided_distance(dense, replaced) <= tolerance + 1e-5);
        CHECK(shapes::one_sided_distance(replaced, dense) <= tolerance + 1e-5);
    }
    CHECK(simplified > 20);
}

TEST_CASE("a curve that is all but straight is no arc of a huge circle") {
    for (const double height : {1e-4, 1e-5, 1e-6}) {
        const Spline flat{2, {0, 0, 0, 1, 1, 1}, {{-10, 5}, {0, 5 + 2 * height}, {10, 5}}, {}};
        const Curve simplest = canonical(flat, 1e-7);
        CHECK(swept_area(simplest) == Approx(swept_area(flat)).epsilon(1e-9));
        CHECK_FALSE(std::holds_alternative<Arc>(simplest));
    }
}
