#include <doctest/doctest.h>

#include <cmath>

#include "curve/shapes.hpp"

using namespace planform;
using doctest::Approx;

TEST_CASE("nearest points in closed form") {
    CHECK(nearest_parameter(Line{{0, 0}, {4, 0}}, {1, 7}) == Approx(0.25));
    CHECK(nearest_parameter(Line{{0, 0}, {4, 0}}, {-3, 7}) == 0.0);
    CHECK(nearest_parameter(Line{{2, 2}, {2, 2}}, {5, 5}) == 0.0);
    const Arc arc{{0, 0}, 1.0, 0.0, pi / 2};
    CHECK(nearest_parameter(arc, {5, 5}) == Approx(0.5));
    CHECK(nearest_parameter(arc, {1, -0.1}) == 0.0);
    CHECK(nearest_parameter(arc, {-1, 0.5}) == 1.0);
    CHECK(nearest_parameter(reversed(arc), {5, 5}) == Approx(0.5));
}

TEST_CASE("a point on the normal of an ellipse goes to the foot, near and far") {
    const EllipticalArc ellipse{{1, 2}, {3, 4}, 0.3, 0.0, 2 * pi};
    for (int i = 0; i < 40; ++i) {
        const double t = (i + 0.5) / 40;
        const Vector2 tangent = derivative_at(ellipse, t).normalized();
        const Point2 outside = point_at(ellipse, t) + 7.0 * Vector2(tangent.y(), -tangent.x());
        CHECK(nearest_parameter(ellipse, outside) == Approx(t).epsilon(1e-12));
    }
}

TEST_CASE("no sample is nearer than the nearest point") {
    std::mt19937 generator(17);
    std::uniform_real_distribution<double> spread(-0.3, 1.3);
    for (const auto& [name, curve] : shapes::all()) {
        CAPTURE(name);
        const std::vector<Point2> dense = shapes::sampled(curve, 5000);
        const Box2 box = bounds(curve);
        for (int repeat = 0; repeat < 150; ++repeat) {
            Point2 target =
                box.min() + Vector2(spread(generator), spread(generator)).cwiseProduct(box.sizes());
            if (repeat % 3 == 0) target = dense[(repeat * 97) % dense.size()];
            const double t = nearest_parameter(curve, target);
            CHECK(t >= domain(curve).first);
            CHECK(t <= domain(curve).last);
            const double found = (point_at(curve, t) - target).norm();
            double least = std::numeric_limits<double>::infinity();
            for (const Point2& point : dense) least = std::min(least, (point - target).norm());
            CHECK(found <= least + 1e-12);
        }
    }
}

TEST_CASE("the parameter of a point of the curve comes back") {
    for (const auto& [name, curve] : shapes::all()) {
        CAPTURE(name);
        for (const double fraction : {0.0, 0.11, 0.35, 0.66, 0.93}) {
            const Point2 point = point_at(curve, shapes::parameter(curve, fraction));
            CHECK((point_at(curve, nearest_parameter(curve, point)) - point).norm() < 1e-12);
        }
    }
}
