/// Splines that go round and lie on themselves, as those of a spring seen along its axis: turn upon
/// turn, apart by what they were fitted with. The union is the ring between two circles.

#include "arrange/chains/wound_curves.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "arrange/arrange.hpp"
#include "arrange/shapes.hpp"

using namespace planform;
using namespace planform::arrange;

namespace {

/// One cubic spline round the origin, Bezier pieces of an eighth of a turn, at a radius that strays
/// by `stray` and grows by `growth` a turn: k = 4/3 tan(a/4) is the usual length of the handles of
/// an arc of the angle a.
Curve wound(double radius, double stray, double turns, double phase, double growth = 0.0) {
    const int pieces = static_cast<int>(std::lround(8.0 * turns));
    const double step = 2.0 * pi * turns / pieces, handle = 4.0 / 3.0 * std::tan(0.25 * step);
    Spline spline;
    spline.degree = 3;
    const auto at = [&](double angle) -> Point2 {
        return (radius + growth * angle / (2.0 * pi) + stray * std::sin(phase + 3.77 * angle)) *
               Point2(std::cos(angle), std::sin(angle));
    };
    for (int k = 0; k < pieces; ++k) {
        const Point2 a = at(step * k), b = at(step * (k + 1));
        if (k == 0) spline.poles.push_back(a);
        spline.poles.emplace_back(a + handle * Vector2(-a.y(), a.x()));
        spline.poles.emplace_back(b - handle * Vector2(-b.y(), b.x()));
        spline.poles.push_back(b);
        for (int i = 0; i < (k == 0 ? 4 : 3); ++i) spline.knots.push_back(k);
    }
    for (int i = 0; i < 4; ++i) spline.knots.push_back(pieces);
    return spline;
}

/// A strip between two radii that goes round more than once.
test::Shapes wound_strip(double turns, double stray) {
    const Curve outer = wound(11.0, stray, turns, 0.3);
    const Curve inner = reversed(wound(9.0, stray, turns, 1.1));
    test::Shapes shapes;
    shapes.chain({outer, Line{end_point(outer), start_point(inner)}, inner,
                  Line{end_point(inner), start_point(outer)}});
    return shapes;
}

}  // namespace

TEST_CASE("a strip wound upon itself is a ring") {
    constexpr double tolerance = 0.01;
    const double ring = pi * (121.0 - 81.0), round = 2.0 * pi * (11.0 + 9.0);
    for (const double turns : {1.125, 1.5, 2.25, 3.0, 5.625})
        for (const double stray : {0.0, 1e-7, 1e-5, 1e-4, 1e-3, 2e-3}) {
            CAPTURE(turns);
            CAPTURE(stray);
            const std::vector<Loop> loops =
                arrange::arrange(wound_strip(turns, stray).input(), {tolerance, test::either});
            REQUIRE(loops.size() == 2);
            // Pieces of an eighth of a turn are within 4.2e-6 of their radius of the circle.
            CHECK(std::abs(test::area(loops) - ring) <= (stray + 5e-5 + 1e-4) * round);
        }
}

TEST_CASE("only what lies on itself is cut") {
    const auto pieces = [](const Curve& curve) {
        Input input{{start_point(curve), end_point(curve)}, {{curve, 0, 1}}};
        const Input cut = with_wound_curves_cut(input, 0.01);
        CHECK(cut.curves.size() == cut.nodes.size() - 1);
        for (std::size_t k = 0; k + 1 < cut.curves.size(); ++k) {
            const DirectedCurve &one = cut.curves[k], &next = cut.curves[k + 1];
            CHECK(one.end_node == next.start_node);
            CHECK((end_point(one.curve) - start_point(next.curve)).norm() < 1e-12);
        }
        double area = 0.0;
        for (const DirectedCurve& part : cut.curves) area += swept_area(part.curve);
        CHECK(area == doctest::Approx(swept_area(curve)).epsilon(1e-12));
        return cut.curves.size();
    };
    CHECK(pieces(wound(10.0, 1e-4, 2.25, 0.0)) >= 3);
    CHECK(pieces(wound(10.0, 1e-4, 1.125, 0.0)) >= 2);
    // Once round: start and end meet, nothing more.
    CHECK(pieces(wound(10.0, 0.0, 1.0, 0.0)) == 1);
    CHECK(pieces(wound(10.0, 0.0, 0.875, 0.0)) == 1);
    // Turns that keep off each other.
    CHECK(pieces(wound(10.0, 0.0, 2.25, 0.0, 0.1)) == 1);
    // A closed wave turns by more than once on its way.
    std::vector<Point2> wave;
    for (int k = 0; k <= 96; ++k) {
        const double angle = 2.0 * pi * (k % 96) / 96.0;
        wave.emplace_back((20.0 + 4.0 * std::cos(12.0 * angle)) * std::cos(angle),
                          (20.0 + 4.0 * std::cos(12.0 * angle)) * std::sin(angle));
    }
    CHECK(pieces(test::cubic_spline(wave)) == 1);
}
