#include <doctest/doctest.h>

#include <cmath>

#include "curve/shapes.hpp"

using namespace planform;
using doctest::Approx;

namespace {

double angle_between(const Vector2& a, const Vector2& b) {
    return std::abs(std::atan2(cross(a, b), a.dot(b)));
}

/// Largest jump of the direction between neighbours, and from last to first if closed.
double largest_turn(const std::vector<Curve>& chain, bool closed) {
    double worst = 0.0;
    for (std::size_t i = 0; i + (closed ? 0 : 1) < chain.size(); ++i)
        worst = std::max(worst, angle_between(derivative_at(chain[i], 1.0),
                                              derivative_at(chain[(i + 1) % chain.size()], 0.0)));
    return worst;
}

double largest_gap(const std::vector<Curve>& chain) {
    double worst = 0.0;
    for (std::size_t i = 0; i + 1 < chain.size(); ++i)
        worst = std::max(worst, (end_point(chain[i]) - start_point(chain[i + 1])).norm());
    return worst;
}

bool only_lines_and_arcs(const std::vector<Curve>& chain) {
    return std::all_of(chain.begin(), chain.end(), [](const Curve& curve) {
        return std::holds_alternative<Line>(curve) || std::holds_alternative<Arc>(curve);
    });
}

}  // namespace

TEST_CASE("lines and arcs come back as they are, splines that are one become it") {
    const std::vector<Curve> line = fit_arcs(Line{{0, 0}, {3, 4}}, 0.01);
    REQUIRE(line.size() == 1);
    CHECK(std::get<Line>(line[0]).end == Point2(3, 4));
    REQUIRE(fit_arcs(Arc{{0, 0}, 3, 0, 2 * pi}, 0.01).size() == 1);
    const std::vector<Curve> circle = fit_arcs(shapes::nine_point_circle(), 0.01);
    REQUIRE(circle.size() == 1);
    CHECK(std::get<Arc>(circle[0]).sweep == 2 * pi);
}

TEST_CASE("arcs stay within tolerance in both directions, joined, with the curve's ends") {
    for (const auto& [name, curve] : shapes::all())
        for (const double tolerance : {0.3, 0.01, 3e-4}) {
            CAPTURE(name);
            CAPTURE(tolerance);
            const std::vector<Curve> chain = fit_arcs(curve, tolerance);
            CHECK(only_lines_and_arcs(chain));
            for (const Curve& piece : chain) CHECK_NOTHROW(check_curve(piece));
            CHECK(largest_gap(chain) < 1e-10);
            CHECK((start_point(chain.front()) - start_point(curve)).norm() < 1e-11);
            CHECK((end_point(chain.back()) - end_point(curve)).norm() < 1e-11);
            const auto dense = shapes::sampled(curve, 5000);
            const auto fitted =
                shapes::sampled(chain, std::max(40, 4000 / static_cast<int>(chain.size())));
            CHECK(shapes::one_sided_distance(shapes::sampled(curve, 1250), fitted) <=
                  1.01 * tolerance + 2e-6);
            CHECK(shapes::one_sided_distance(shapes::sampled(chain, 20), dense) <=
                  1.01 * tolerance + 2e-6);
        }
}

TEST_CASE("an axis that ends where the curve does leaves no crumb of an arc") {
    // A quarter of an ellipse from noise beside one axis to noise beside the next, as folds have
    // it.
    for (const double noise : {1.4e-7, -1.4e-7, 1e-6}) {
        const EllipticalArc quarter{{3, 4}, {0, 1.2}, 0.85, 0.5 * pi - noise, 0.5 * pi};
        const std::vector<Curve> chain = fit_arcs(quarter, 0.01);
        for (const Curve& piece : chain) CHECK(length(piece) > 0.01);
        CHECK(largest_gap(chain) < 1e-10);
    }
}

TEST_CASE("the tangent is continuous, at the start of a closed ellipse too") {
    for (const double tolerance : {0.1, 0.01, 1e-4, 1e-6}) {
        const EllipticalArc ellipse{{3, 4}, {20, 5}, 0.4, 0.3, 2 * pi};
        CHECK(largest_turn(fit_arcs(ellipse, tolerance), true) < 1e-9);
        CHECK(largest_turn(fit_arcs(shapes::wave(), tolerance), false) < 1e-9);
        CHECK(largest_turn(fit_arcs(shapes::rational_wave(), tolerance), false) < 1e-9);
        CHECK(largest_turn(fit_arcs(shapes::closed_quintic(), tolerance), false) < 1e-9);
    }
}

TEST_CASE("corners and cusps of the curve stay, and nothing else") {
    const auto corners = [](const std::vector<Curve>& chain) {
        std::vector<Point2> places;
        for (std::size_t i = 0; i + 1 < chain.size(); ++i)
            if (angle_between(derivative_at(chain[i], 1.0), derivative_at(chain[i + 1], 0.0)) >
                1e-9)
                places.push_back(end_point(chain[i]));
        return places;
    };
    const std::vector<Point2> kink = corners(fit_arcs(shapes::kinked(), 0.001));
    REQUIRE(kink.size() == 1);
    CHECK((kink[0] - Point2(3, 0)).norm() < 1e-12);
    const std::vector<Point2> cusp = corners(fit_arcs(shapes::cusped(), 0.001));
    REQUIRE(cusp.size() == 1);
    CHECK((cusp[0] - point_at(shapes::cusped(), 0.5)).norm() < 1e-9);
}

TEST_CASE("cusps at odd parameters and corners from coinciding poles stay too") {
    const Curve rational_cusp = [] {
        Spline spline = shapes::cusped();
        // Weights in geometric progression only change the parameter (linear rational
        // reparametrization, The NURBS Book, section 6.4; from memory).
        spline.weights = {1.0, 2.0, 4.0, 8.0};
        return Curve(spline);
    }();
    const Spline triple_pole{
        3,
        {0, 0, 0, 0, 1, 2, 3, 4, 5, 6, 6, 6, 6},
        {{0, 0}, {1, 0}, {2, 0}, {3, 1}, {3, 1}, {3, 1}, {4, 0}, {5, 0}, {6, 0}},
        {}};
    const std::vector<std::pair<Curve, Point2>> cases{
        {trimmed(shapes::cusped(), 0.1234, 0.931), point_at(shapes::cusped(), 0.5)},
        {rational_cusp, point_at(shapes::cusped(), 0.5)},
        {triple_pole, {3, 1}}};
    for (const auto& [curve, place] : cases) {
        const std::vector<Curve> chain = fit_arcs(curve, 1e-3);
        int corners = 0;
        for (std::size_t i = 0; i + 1 < chain.size(); ++i)
            if (angle_between(derivative_at(chain[i], 1.0), derivative_at(chain[i + 1], 0.0)) >
                1e-9) {
                ++corners;
                CHECK((end_point(chain[i]) - place).norm() < 1e-9);
            }
        CHECK(corners == 1);
        CHECK(chain.size() < 60);
    }
}

TEST_CASE("a tolerance below rounding ends, and is held to rounding") {
    const std::vector<Curve> chain = fit_arcs(EllipticalArc{{0, 0}, {2, 0}, 0.5, 0.0, 1.0}, 1e-300);
    CHECK(chain.size() < 20000);
    CHECK(chain.size() > 1000);
    CHECK(largest_gap(chain) < 1e-9);
    CHECK(chord_parameters(shapes::quarter_circle(), 1e-300).size() < 10'000'000);
}

TEST_CASE("the number of arcs grows with the cube root of the precision") {
    for (const Curve& curve :
         {Curve(shapes::wave()), Curve(EllipticalArc{{0, 0}, {20, 5}, 0.4, 0.3, 2 * pi})}) {
        const double coarse = static_cast<double>(fit_arcs(curve, 1e-3).size());
        const double fine = static_cast<double>(fit_arcs(curve, 1e-6).size());
        CHECK(fine / coarse > 7.5);
        CHECK(fine / coarse < 12.5);
    }
}

TEST_CASE("the number of biarcs is near the least that theory allows") {
    // Error of one biarc on a spiral |curvature'| h^3 / 324 (Meek, Walton 1995), hence
    // n = integral of |curvature'|^(1/3) ds / (324 tolerance)^(1/3).
    const EllipticalArc ellipse{{0, 0}, {20, 0}, 0.4, 0.0, 2 * pi};
    const double tolerance = 1e-5;
    double integral = 0.0;
    const int cells = 100000;
    const auto curvature = [&](double t) {
        const Vector2 first = derivative_at(ellipse, t);
        return cross(first, second_derivative_at(ellipse, t)) / std::pow(first.norm(), 3);
    };
    for (int i = 0; i < cells; ++i) {
        const double left = static_cast<double>(i) / cells;
        const double right = static_cast<double>(i + 1) / cells;
        const double advance = (point_at(ellipse, right) - point_at(ellipse, left)).norm();
        integral +=
            std::cbrt(std::abs(curvature(right) - curvature(left))) * std::pow(advance, 2.0 / 3.0);
    }
    const double least = integral / std::cbrt(324.0 * tolerance);
    const double biarcs = 0.5 * static_cast<double>(fit_arcs(ellipse, tolerance).size());
    CHECK(biarcs > 0.95 * least);
    // The formula is the limit for short arcs; at this length the error is a tenth to a fifth above
    // it.
    CHECK(biarcs < 1.10 * least + 4.0);
}

TEST_CASE("a reversed curve gets the reversed arcs, a symmetric one symmetric arcs") {
    for (const auto& [name, curve] : shapes::all()) {
        CAPTURE(name);
        const std::vector<Curve> forward = fit_arcs(curve, 0.01);
        const std::vector<Curve> backward = fit_arcs(reversed(curve), 0.01);
        REQUIRE(forward.size() == backward.size());
        for (std::size_t i = 0; i < forward.size(); ++i)
            CHECK((point_at(forward[i], 0.5) - point_at(backward[forward.size() - 1 - i], 0.5))
                      .norm() < 1e-8);
    }
    // An ellipse from vertex to vertex: the second half is the first one turned by half a turn.
    const std::vector<Curve> ellipse =
        fit_arcs(EllipticalArc{{0, 0}, {20, 0}, 0.4, 0.0, 2 * pi}, 0.001);
    REQUIRE(ellipse.size() % 4 == 0);
    for (std::size_t i = 0; i < ellipse.size() / 2; ++i)
        CHECK((point_at(ellipse[i], 0.5) + point_at(ellipse[i + ellipse.size() / 2], 0.5)).norm() <
              1e-8);
}

TEST_CASE("straight and circular stretches of a spline are found whole") {
    // Line of length 10, then a quarter circle of radius 5, in one rational spline with a knot
    // between.
    const double w = std::sqrt(0.5);
    const Spline spline{
        2, {0, 0, 0, 1, 1, 2, 2, 2}, {{0, 0}, {5, 0}, {10, 0}, {15, 0}, {15, 5}}, {1, 1, 1, w, 1}};
    const std::vector<Curve> chain = fit_arcs(spline, 0.001);
    CHECK(largest_turn(chain, false) < 1e-9);
    CHECK(chain.size() <= 6);
    double total = 0.0;
    for (const Curve& piece : chain) total += length(piece);
    CHECK(total == Approx(10.0 + 2.5 * pi).epsilon(1e-5));
}
