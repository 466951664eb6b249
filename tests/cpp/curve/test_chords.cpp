#include <doctest/doctest.h>

#include <cmath>

#include "curve/shapes.hpp"
#include "planform/error.hpp"

using namespace planform;

namespace {

/// Largest of both one-sided distances between a curve and its chords, by dense samples; the
/// samples' own polyline is off by less than 2e-6 for these shapes.
double measured_distance(const Curve& curve, const std::vector<Point2>& chords) {
    const std::vector<Point2> dense = shapes::sampled(curve, 4000);
    return std::max(shapes::one_sided_distance(dense, chords),
                    shapes::one_sided_distance(shapes::refined(chords, 7), dense));
}

constexpr double sampling = 2e-6;

}  // namespace

TEST_CASE("chords stay within tolerance in both directions") {
    for (const auto& [name, curve] : shapes::all())
        for (const double tolerance : {1.0, 0.1, 0.01, 1e-3}) {
            CAPTURE(name);
            CAPTURE(tolerance);
            const std::vector<double> parameters = chord_parameters(curve, tolerance);
            CHECK(parameters.front() == domain(curve).first);
            CHECK(parameters.back() == domain(curve).last);
            CHECK(std::adjacent_find(parameters.begin(), parameters.end(),
                                     std::greater_equal<double>()) == parameters.end());
            CHECK(measured_distance(curve, points(curve, tolerance)) <= tolerance + sampling);
        }
}

TEST_CASE("random splines stay within tolerance too") {
    std::mt19937 generator(5);
    std::uniform_real_distribution<double> coordinate(-10.0, 10.0);
    std::uniform_real_distribution<double> weight(0.2, 5.0);
    for (int repeat = 0; repeat < 40; ++repeat) {
        CAPTURE(repeat);
        const int degree = 1 + repeat % 6;
        const int spans = 1 + repeat % 4;
        Spline spline;
        spline.degree = degree;
        spline.knots.assign(degree + 1, 0.0);
        for (int i = 1; i < spans; ++i) spline.knots.push_back(i);
        spline.knots.insert(spline.knots.end(), degree + 1, spans);
        for (int i = 0; i < degree + spans; ++i) {
            spline.poles.push_back({coordinate(generator), coordinate(generator)});
            if (repeat % 2 == 1) spline.weights.push_back(weight(generator));
        }
        CHECK(measured_distance(spline, points(spline, 0.01)) <= 0.01 + 20 * sampling);
    }
}

TEST_CASE("an arc gets the least number of equal chords that the sagitta allows") {
    // r (1 - cos(pi / n)) <= tolerance for a full circle.
    for (const double tolerance : {0.5, 0.01, 1e-4, 1e-6}) {
        const double radius = 10.0;
        const std::size_t count =
            chord_parameters(Arc{{0, 0}, radius, 0.0, 2 * pi}, tolerance).size() - 1;
        const auto sagitta = [&](double n) {
            return radius * 2 * std::pow(std::sin(pi / n / 2), 2);
        };
        CHECK(sagitta(count) <= tolerance * (1 + 1e-9));
        CHECK((count == 4 || sagitta(count - 1) > tolerance));
    }
    // However coarse, a circle stays a polygon.
    CHECK(chord_parameters(Arc{{0, 0}, 1.0, 0.0, 2 * pi}, 100.0).size() == 5);
    CHECK(chord_parameters(shapes::closed_quintic(), 1000.0).size() >= 5);
}

TEST_CASE("the number of chords is near the least, length-wise sqrt(curvature / (8 tolerance))") {
    // Asymptotically least number: integral of sqrt(|curvature| / (8 tolerance)) ds.
    for (const auto& [name, curve] : shapes::all()) {
        CAPTURE(name);
        const double tolerance = 1e-4;
        double least = 0.0;
        const int cells = 20000;
        const double step = (domain(curve).last - domain(curve).first) / static_cast<double>(cells);
        for (int i = 0; i < cells; ++i) {
            const double t = shapes::parameter(curve, (i + 0.5) / cells);
            const Vector2 first = derivative_at(curve, t);
            const double bend = std::abs(cross(first, second_derivative_at(curve, t)));
            least += std::sqrt(bend / first.norm() / (8 * tolerance)) * step;
        }
        const double count = chord_parameters(curve, tolerance).size() - 1.0;
        CHECK(count >= std::floor(0.99 * least));
        CHECK(count <= 1.75 * least + 12.0);
    }
}

TEST_CASE("straight splines need no chords inside, corners are kept") {
    const Spline straight{3, {0, 0, 0, 0, 1, 1, 1, 1}, {{0, 0}, {1, 2}, {2, 4}, {3, 6}}, {}};
    CHECK(chord_parameters(straight, 1e-6).size() == 2);
    const std::vector<double> kinked = chord_parameters(shapes::kinked(), 100.0);
    CHECK(std::count(kinked.begin(), kinked.end(), 1.0) == 1);
}

TEST_CASE("an S whose middle lies on the chord is not taken for straight") {
    const Spline s{3, {0, 0, 0, 0, 1, 1, 1, 1}, {{0, 0}, {1, 3}, {2, -3}, {3, 0}}, {}};
    CHECK((point_at(s, 0.5) - Point2(1.5, 0)).norm() < 1e-15);
    CHECK(chord_parameters(s, 0.05).size() > 4);
    CHECK(measured_distance(s, points(s, 0.05)) <= 0.05 + sampling);
}

TEST_CASE("a piece that runs out beyond its chord's ends is split") {
    // All poles on one line: to x = 3.2 or so and back to 1.
    const Spline overshoot{3, {0, 0, 0, 0, 1, 1, 1, 1}, {{0, 0}, {6, 0}, {3, 0}, {1, 0}}, {}};
    CHECK(measured_distance(overshoot, points(overshoot, 0.01)) <= 0.01 + sampling);
}

TEST_CASE("a tolerance that is no positive number is refused") {
    for (const double tolerance : {0.0, -1.0, std::nan(""), HUGE_VAL}) {
        CHECK_THROWS_AS(chord_parameters(shapes::wave(), tolerance), GeometryError);
        CHECK_THROWS_AS(points(Line{{0, 0}, {1, 1}}, tolerance), GeometryError);
        CHECK_THROWS_AS(fit_arcs(shapes::wave(), tolerance), GeometryError);
    }
}
