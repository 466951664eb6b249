#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <random>

#include "plan/pieces.hpp"
#include "planform/error.hpp"

namespace planform {
namespace {

using test::circle;
using test::piece;
using test::rectangle;

/// Uniformly accelerated motion, s = v t and v^2 = 2 a s: any textbook of mechanics.
TEST_CASE("a line, with acceleration and without") {
    CHECK(move_time(100.0, {20.0}) == doctest::Approx(5.0).epsilon(1e-14));
    // 0.1 s up to speed and down again, 1 mm each.
    CHECK(move_time(100.0, {20.0, 200.0}) == doctest::Approx(0.2 + 98.0 / 20.0).epsilon(1e-14));
    // Too short for the speed: a triangle, s = a t^2 / 4.
    CHECK(move_time(1.0, {20.0, 200.0}) ==
          doctest::Approx(2.0 * std::sqrt(1.0 / 200.0)).epsilon(1e-14));
    // From the speed to rest.
    CHECK(move_time(1.0, {20.0, 200.0}, 20.0, 0.0) == doctest::Approx(0.1).epsilon(1e-12));
    CHECK(move_time(0.0, {20.0, 200.0}) == 0.0);
}

TEST_CASE("a circle is no faster than the square root of acceleration times radius") {
    const std::vector<Curve> way = circle({0, 0}, 2.0).curves();
    const double around = 4.0 * pi;
    CHECK(path_time(way, {20.0}) == doctest::Approx(around / 20.0).epsilon(1e-12));
    // sqrt(50 * 2) = 10 mm/s instead of 20: v / a + s / v.
    CHECK(path_time(way, {20.0, 50.0}) ==
          doctest::Approx(10.0 / 50.0 + around / 10.0).epsilon(1e-12));
    // sqrt(200 * 2) = 20 mm/s: the speed itself.
    CHECK(path_time(way, {20.0, 200.0}) == doctest::Approx(0.1 + around / 20.0).epsilon(1e-12));
}

TEST_CASE("a square rests at its corners, a line in two pieces does not") {
    const std::vector<Curve> way = rectangle(0, 0, 50, 50).curves();
    CHECK(path_time(way, {25.0}) == doctest::Approx(8.0).epsilon(1e-12));
    CHECK(path_time(way, {25.0, 250.0}) ==
          doctest::Approx(4.0 * move_time(50.0, {25.0, 250.0})).epsilon(1e-12));
    const std::vector<Curve> line{Line{{0, 0}, {30, 0}}, Line{{30, 0}, {50, 0}}};
    CHECK(path_time(line, {25.0, 250.0}) ==
          doctest::Approx(move_time(50.0, {25.0, 250.0})).epsilon(1e-12));
}

/// s(v) = integral of dt = dv / a up and down, and of ds / v between, by Simpson's rule over the
/// speed: what the closed form has to give.
double integrated(double length, double v, double a, double from, double to) {
    const double peak = std::min(v, std::sqrt(0.5 * (from * from + to * to) + a * length));
    // Way covered while the speed goes from one to another: the integral of u / a du.
    const auto way = [&](double low, double high) {
        constexpr int steps = 2000;
        double sum = 0.0;
        const double h = (high - low) / steps;
        for (int i = 0; i < steps; ++i) {
            const double u = low + i * h;
            sum += h / 6.0 * (u + 4.0 * (u + 0.5 * h) + u + h) / a;
        }
        return sum;
    };
    return (peak - from) / a + (peak - to) / a + (length - way(from, peak) - way(to, peak)) / peak;
}

TEST_CASE("the trapezoid against numerical integration") {
    std::mt19937_64 random(3);
    std::uniform_real_distribution<double> unit(0.0, 1.0);
    int triangles = 0;
    for (int i = 0; i < 500; ++i) {
        const double v = 1.0 + 100.0 * unit(random), a = 10.0 + 1000.0 * unit(random);
        const double from = v * unit(random), to = v * unit(random);
        const double least = std::abs(from * from - to * to) / (2.0 * a);
        const double length = least + (0.001 + 30.0 * unit(random) * unit(random));
        const double time = move_time(length, {v, a}, from, to);
        triangles += std::sqrt(0.5 * (from * from + to * to) + a * length) < v;
        CHECK(std::abs(time - integrated(length, v, a, from, to)) < 1e-9 * std::max(1.0, time));
    }
    CHECK(triangles > 50);
    CHECK(triangles < 450);
}

TEST_CASE("no way is faster than its speed, none gets shorter by being cut in two") {
    std::mt19937_64 random(5);
    std::uniform_real_distribution<double> unit(0.0, 1.0);
    for (int i = 0; i < 200; ++i) {
        const Point2 a(100 * unit(random), 0), b(0, 100 * unit(random)), c(-50 * unit(random), -9);
        const Motion motion{5.0 + 50.0 * unit(random), 20.0 + 500.0 * unit(random)};
        const std::vector<Curve> way{Line{a, b}, Line{b, c}};
        const double time = path_time(way, motion);
        CHECK(time >= ((b - a).norm() + (c - b).norm()) / motion.speed);
        CHECK(time <= move_time((b - a).norm(), motion) + move_time((c - b).norm(), motion) + 1e-9);
    }
}

TEST_CASE("times of a plan are sums of their parts") {
    PlanOptions options;
    options.hold = {0.5, 2, 0.0};
    const CutPlan plan =
        plan_cuts({piece({Profile(rectangle(10, 10, 60, 60), {circle({35, 35}, 8)})},
                         {{circle({20, 20}, 3), "label"}})},
                  options);
    MachineFigures figures;
    figures.cutting = {20.0, 500.0};
    figures.marking = {100.0, 500.0};
    figures.travel = {400.0, 4000.0};
    figures.pierce_time = 0.4;
    const std::vector<CutTime> times = cut_times(plan, figures);
    REQUIRE(times.size() == 3);
    CHECK(times[0].pierce == 0.0);
    CHECK(times[0].cutting ==
          doctest::Approx(path_time(plan.cuts[0].stretches[0], figures.marking)));
    CHECK(times[1].pierce == doctest::Approx(0.4));
    CHECK(times[2].pierce == doctest::Approx(3 * 0.4));
    figures.travel.acceleration = figures.cutting.acceleration = figures.marking.acceleration =
        std::numeric_limits<double>::infinity();
    double travel = 0.0, cutting = 0.0;
    for (const CutTime& time : cut_times(plan, figures)) {
        travel += time.travel;
        cutting += time.cutting;
    }
    CHECK(travel == doctest::Approx(plan.travel() / 400.0).epsilon(1e-12));
    CHECK(cutting == doctest::Approx(plan.cut_length() / 20.0 + plan.mark_length() / 100.0));
}

TEST_CASE("speeds that are none are refused") {
    CHECK_THROWS_AS(move_time(1.0, {0.0}), GeometryError);
    CHECK_THROWS_AS(move_time(1.0, {10.0, 0.0}), GeometryError);
    CHECK_THROWS_AS(move_time(-1.0, {10.0}), GeometryError);
    CHECK_THROWS_AS(move_time(1.0, {10.0}, 11.0, 0.0), GeometryError);
    CHECK_THROWS_AS(move_time(0.01, {10.0, 1.0}, 10.0, 0.0), GeometryError);
    CHECK_THROWS_AS(path_time({}, {std::nan("")}), GeometryError);
}

}  // namespace
}  // namespace planform
