#include <doctest/doctest.h>

#include <cmath>
#include <random>

#include "planform/layout.hpp"

using namespace planform;

namespace {

/// The nearest of many points, to judge by: never less than the distance, and little more.
double sampled(const Curve& a, const Curve& b) {
    double least = 1e300;
    for (int i = 0; i <= 4000; ++i) {
        const Interval whole = domain(a);
        const Point2 point = point_at(a, whole.first + (whole.last - whole.first) * i / 4000.0);
        least = std::min(least, (point_at(b, nearest_parameter(b, point)) - point).norm());
    }
    return least;
}

Curve random_curve(std::mt19937& random, int kind) {
    std::uniform_real_distribution<double> place(-50.0, 50.0), size(5.0, 40.0), angle(-3.0, 3.0);
    const Point2 center(place(random), place(random));
    if (kind == 0) return Line{center, center + Vector2(place(random), place(random))};
    if (kind == 1) return Arc{center, size(random), angle(random), 2.0 * angle(random) + 0.1};
    if (kind == 2) {
        const double turn = angle(random), sweep = 1.9 * angle(random) + 0.2;
        return EllipticalArc{center, size(random) * Vector2(std::cos(turn), std::sin(turn)), 0.4,
                             angle(random), sweep};
    }
    Spline spline{3, {0, 0, 0, 0, 1, 2, 2, 2, 2}, {}, {}};
    for (int i = 0; i < 5; ++i)
        spline.poles.push_back(center + Vector2(place(random), place(random)));
    return spline;
}

}  // namespace

TEST_CASE("distances of lines and arcs: closed forms") {
    const Line line{{0, 0}, {10, 0}};
    CHECK(distance_between(line, Line{{3, 2}, {7, 5}}).distance ==
          doctest::Approx(2).epsilon(1e-15));
    CHECK(distance_between(line, Line{{13, 4}, {20, 9}}).distance ==
          doctest::Approx(5).epsilon(1e-15));
    CHECK(distance_between(line, Line{{5, -1}, {5, 1}}).distance == 0.0);
    // Above the middle of the line: 8 - 3. Below the arc's ends: the ends themselves.
    CHECK(distance_between(line, Arc{{5, 8}, 3, -pi, pi}).distance ==
          doctest::Approx(5).epsilon(1e-15));
    CHECK(distance_between(line, Arc{{5, 8}, 3, 0, pi}).distance ==
          doctest::Approx(8).epsilon(1e-15));
    CHECK(distance_between(line, Arc{{5, 1}, 3, 0, 2 * pi}).distance < 1e-15);
    // Circles beside, in and through each other.
    const Arc circle{{0, 0}, 5, 0, 2 * pi};
    CHECK(distance_between(circle, Arc{{12, 5}, 6, 0, 2 * pi}).distance == doctest::Approx(2));
    CHECK(distance_between(circle, Arc{{1, 0}, 2, 1, 2 * pi}).distance == doctest::Approx(2));
    CHECK(distance_between(circle, Arc{{0, 0}, 3, 1, 0.5}).distance == doctest::Approx(2));
    CHECK(distance_between(circle, Arc{{6, 0}, 5, 0, 2 * pi}).distance < 1e-14);
}

TEST_CASE("distances of all kinds of curves against nearest points") {
    std::mt19937 random(20);
    int apart = 0;
    for (int i = 0; i < 160; ++i) {
        const Curve a = random_curve(random, i % 4), b = random_curve(random, (i / 4) % 4);
        const double measured = distance_between(a, b).distance;
        const double judge = sampled(a, b);
        CAPTURE(i);
        CHECK(measured <= judge + 1e-6);
        CHECK(measured >= judge - length(a) / 4000.0);
        CHECK(distance_between(b, a).distance == doctest::Approx(measured).epsilon(1e-6));
        apart += measured > 1.0;
    }
    CHECK(apart > 40);
}

TEST_CASE("the distance of a curve from its parallel is the offset") {
    const EllipticalArc ellipse{{0, 0}, {40, 0}, 0.5, 0.0, pi};
    // A line that touches the ellipse's parallel curve at its top: 20 + 3 above the centre.
    CHECK(distance_between(ellipse, Line{{-50, 23}, {50, 23}}).distance ==
          doctest::Approx(3.0).epsilon(1e-6));
    // Beyond a limit nothing is measured finely.
    CHECK(distance_between(ellipse, Line{{-50, 90}, {50, 90}}, 5.0).distance >= 5.0);
}
