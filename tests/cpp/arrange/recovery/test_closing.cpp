#include <doctest/doctest.h>

#include <cmath>

#include "arrange/carriers/spikes.hpp"
#include "arrange/recovery/closing.hpp"

using namespace planform;
using namespace planform::arrange;
using doctest::Approx;

namespace {

constexpr double cell = 1e-5;

grid::Grid unit_grid() {
    Box2 box;
    box.extend(Point2(-20, -20));
    box.extend(Point2(20, 20));
    return {box, cell};
}

/// A half-moon of two arcs; the second begins `gap` off the end of the first.
Loop moon(double gap) {
    Loop loop;
    loop.curves = {Arc{{0, 0}, 10.0, 0.0, 0.5 * pi}, Arc{{gap, 0}, 10.0, 0.5 * pi, -0.5 * pi}};
    loop.tags = {1, 2};
    return loop;
}

double widest_gap(const Loop& loop) {
    double widest = 0.0;
    for (std::size_t i = 0; i < loop.curves.size(); ++i) {
        const Curve& next = loop.curves[(i + 1) % loop.curves.size()];
        widest = std::max(widest, (end_point(loop.curves[i]) - start_point(next)).norm());
    }
    return widest;
}

}  // namespace

TEST_CASE("arcs whose ends are within a cell are laid through each other's ends") {
    Loop loop = moon(0.3 * cell);
    close_gaps(loop, unit_grid());
    REQUIRE(loop.curves.size() == 2);
    CHECK(widest_gap(loop) < 1e-13);
    for (const Curve& curve : loop.curves) {
        const Arc& arc = std::get<Arc>(curve);
        CHECK(arc.radius == 10.0);
        CHECK(arc.center.norm() < 4.0 * cell);
        CHECK(std::abs(arc.sweep) == Approx(0.5 * pi).epsilon(1e-6));
    }
}

TEST_CASE("gaps that are kept leave lines and arcs where they are, and splines give way") {
    const double gap = 0.5 * cell;
    const Arc arc{{0, 0}, 10.0, 0.0, pi};
    const Line line{{-10.0 - gap, 0}, {0, -5}};
    const Spline spline{1, {0, 0, 1, 1}, {{0, -5.0 - gap}, {10.0 - gap, 0}}, {}};
    // The loop is 25 mm from corner to corner.
    for (const KeptGaps& gaps : {KeptGaps{0.0, 1.0}, KeptGaps{cell, 1.0}, KeptGaps{1.0, 0.1 * cell},
                                 KeptGaps{1.0, 0.01 * cell}}) {
        Loop loop{{arc, line, spline}, {1, 2, 3}};
        close_gaps(loop, unit_grid(), gaps);
        REQUIRE(loop.curves.size() == 3);
        const bool kept = gaps.widest >= gap && 25.0 * gaps.widest_per_size >= gap;
        CHECK((start_point(loop.curves[1]) == line.start) == kept);
        CHECK(std::abs(widest_gap(loop) - (kept ? gap : 0.0)) < 1e-12);
        CHECK(end_point(loop.curves[1]) == line.end);
        CHECK(start_point(loop.curves[2]) == line.end);
    }
}

TEST_CASE("a wider gap between two arcs is closed by a straight piece") {
    Loop loop = moon(3.0 * cell);
    close_gaps(loop, unit_grid());
    REQUIRE(loop.curves.size() == 4);
    CHECK(widest_gap(loop) < 1e-13);
    CHECK(length(loop.curves[1]) == Approx(3.0 * cell));
    CHECK(loop.tags == std::vector<int>{1, 1, 2, 2});
}

TEST_CASE("a half turn keeps its centre: a gap there is closed by a straight piece") {
    Loop loop;
    const double gap = 0.3 * cell;
    loop.curves = {Arc{{0, 0}, 10.0, 0.0, pi}, Arc{{gap, 0}, 10.0, pi, pi}};
    loop.tags = {1, 2};
    close_gaps(loop, unit_grid());
    CHECK(widest_gap(loop) < 1e-8 * cell);
    for (const Curve& curve : loop.curves)
        if (const Arc* arc = std::get_if<Arc>(&curve)) CHECK(arc->center.norm() < 4.0 * cell);
}

TEST_CASE("a spline that leaves its corner the wrong way begins where it passes it again") {
    // y(t) = 2 a t (1 - t) - t^2: up to about a^2, then down; back at 0 for t = 2 a / (1 + 2 a).
    const double a = 4e-3;
    const Spline spline{2, {0, 0, 0, 1, 1, 1}, {{5, 0}, {5, a}, {5, -1}}, {}};
    const Carrier carrier{Carrier::Kind::spline, spline};
    const double pass = 2.0 * a / (1.0 + 2.0 * a);
    CHECK(past_spike(carrier, 0.0, 1.0, 8.0 * cell) == Approx(pass).epsilon(1e-6));
    // The spike reaches 1.6e-5: with less reach it is a part of the curve.
    CHECK(past_spike(carrier, 0.0, 1.0, 1e-6) == 0.0);
    // From the other end there is no spike.
    CHECK(past_spike(carrier, 1.0, 0.0, 8.0 * cell) == 1.0);
    const Carrier turned{Carrier::Kind::spline, reversed(Curve{spline})};
    CHECK(past_spike(turned, 1.0, 0.0, 8.0 * cell) == Approx(1.0 - pass).epsilon(1e-6));
}
