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

TEST_CASE("knots that all but coincide don't keep the search for the nearest point from ending") {
    std::mt19937 generator(23);
    std::uniform_real_distribution<double> spread(-2.0, 12.0), far(-1.0, 1.0);
    for (const int degree : {2, 3, 4, 5, 7})
        for (const double gap : {1e-15, 1e-13, 1e-11, 1e-9, 1e-7, 1e-5})
            for (const bool rational : {false, true}) {
                CAPTURE(degree);
                CAPTURE(gap);
                CAPTURE(rational);
                Spline spline{degree, {}, {}, {}};
                spline.knots.assign(degree + 1, 0.0);
                for (int i = 0; i < 6; ++i) spline.knots.push_back(0.5 + i * i * gap);
                spline.knots.insert(spline.knots.end(), degree + 1, 1.0);
                for (std::size_t i = 0; i + degree + 1 < spline.knots.size(); ++i) {
                    spline.poles.emplace_back(spread(generator), spread(generator));
                    if (rational) spline.weights.push_back(std::exp(far(generator)));
                }
                // Where more knots than the degree all but coincide the curve jumps, as far as
                // parameters can tell the places of the jump apart.
                const double jump = degree < 7 ? 1e-14 / gap : 0.0;
                const std::vector<Point2> dense = shapes::sampled(spline, 2000);
                const Point2 knot = point_at(spline, 0.5);
                for (int repeat = 0; repeat < 24; ++repeat) {
                    // Anywhere, on the curve, and as near to the knots as they are to each other.
                    Point2 target(spread(generator), spread(generator));
                    if (repeat % 3 == 1) target = point_at(spline, 0.5 * (1.0 + far(generator)));
                    if (repeat % 3 == 2)
                        target = knot + std::pow(10.0, 6.0 * far(generator) - 8.0) *
                                            Vector2(far(generator), far(generator));
                    const double found =
                        (point_at(spline, nearest_parameter(spline, target)) - target).norm();
                    double least = (knot - target).norm();
                    for (const Point2& point : dense)
                        least = std::min(least, (point - target).norm());
                    CHECK(found <= least + 1e-12 + jump);
                }
            }
}

TEST_CASE("the centre of a circle written as a spline has its nearest point at the radius") {
    for (const double off : {0.0, 1e-15, 1e-12, 1e-9}) {
        const Point2 target(off, 0.5 * off);
        const Spline circle = shapes::nine_point_circle();
        const double found = (point_at(circle, nearest_parameter(circle, target)) - target).norm();
        CHECK(found == Approx(1.0 - target.norm()).epsilon(1e-12));
    }
}
