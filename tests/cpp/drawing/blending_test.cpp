/// Gaps that curves can't follow by themselves. The oracle is the closed form of the undamaged
/// outline's area; what a straight piece loses is the segment of a circle, k d^3 / 12.

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "drawing/area_of.hpp"
#include "planform/drawing.hpp"

using namespace planform;
using doctest::Approx;

namespace {

/// Piecewise cubic with places and derivatives of an ellipse, one span every `step` radians: short
/// spans, as programs write them, whose polynomials run away beyond their ends.
Spline ellipse_in_spans(double a, double b, double from, double to, int spans) {
    const double step = (to - from) / spans;
    const auto place = [&](int i) {
        const double t = from + i * step;
        return Point2(a * std::cos(t), b * std::sin(t));
    };
    const auto third = [&](int i) {
        const double t = from + i * step;
        return Vector2(Vector2(-a * std::sin(t), b * std::cos(t)) * step / 3.0);
    };
    Spline spline{3, {0, 0, 0, 0}, {place(0)}, {}};
    for (int i = 0; i < spans; ++i) {
        spline.poles.push_back(place(i) + third(i));
        spline.poles.push_back(place(i + 1) - third(i + 1));
        const int times = i + 1 == spans ? 4 : 2;
        for (int k = 0; k < times; ++k) spline.knots.push_back(i + 1.0);
    }
    spline.poles.push_back(place(spans));
    return spline;
}

/// A quarter of an ellipse with half-axes 10 and 6 in 40 spans, the tangents at its ends, and two
/// sides of a rectangle around it.
std::vector<Curve> plate_with_round_corner() {
    return {ellipse_in_spans(10, 6, 0.0, 0.5 * pi, 40), Line{{0, 6}, {-20, 6}},
            Line{{-20, 6}, {-20, -15}}, Line{{-20, -15}, {10, -15}}, Line{{10, -15}, {10, 0}}};
}
/// Rectangle of 30 by 21, with a quarter of the ellipse in place of its quarter of the box.
double plate_area() { return 30.0 * 21.0 - 60.0 + 15.0 * pi; }

struct Mended {
    Gap gap;
    double area;
};

Mended mended(std::vector<Curve> curves, double limit) {
    const ClosedContours closed = close_contours(curves, {.gap = limit});
    REQUIRE(closed.chains.size() == 1);
    REQUIRE(closed.gaps.size() == 1);
    CHECK(closed.open.empty());
    return {closed.gaps[0], area_of(closed)};
}

}  // namespace

TEST_CASE("a gap at the end of a spline of short spans is closed by the curve both ends ask for") {
    for (const bool at_start : {false, true})
        for (const double spans : {0.5, 3.0, 7.0}) {
            CAPTURE(at_start);
            CAPTURE(spans);
            std::vector<Curve> curves = plate_with_round_corner();
            curves[0] =
                at_start ? trimmed(curves[0], spans, 40.0) : trimmed(curves[0], 0.0, 40.0 - spans);
            const Mended plate = mended(curves, 3.0);
            CHECK(plate.area == Approx(plate_area()).epsilon(1e-7));
            if (spans > 1.0) CHECK(plate.gap.closing == Gap::Closing::blended);
        }
}

TEST_CASE("a gap in the middle of a spline keeps direction and curvature at both ends") {
    for (const double spans : {1.0, 3.0, 6.0}) {
        CAPTURE(spans);
        std::vector<Curve> curves = plate_with_round_corner();
        const Curve whole = curves[0];
        curves[0] = trimmed(whole, 0.0, 17.0 - 0.5 * spans);
        curves.push_back(trimmed(whole, 17.0 + 0.5 * spans, 40.0));
        const Mended plate = mended(curves, 3.0);
        CHECK(plate.gap.closing == Gap::Closing::blended);
        CHECK(plate.area == Approx(plate_area()).epsilon(2e-7));
    }
}

TEST_CASE("a closed spline with a gap is closed by itself") {
    const Curve whole = ellipse_in_spans(10, 6, 0.3, 0.3 + 2.0 * pi, 160);
    const Mended disc = mended({trimmed(whole, 0.0, 156.5)}, 3.0);
    CHECK(disc.gap.closing == Gap::Closing::blended);
    CHECK(disc.area == Approx(60.0 * pi).epsilon(2e-7));
}

TEST_CASE("a spline that stops before a corner goes on with its curvature, not with the corner") {
    // A half ellipse over its chord: corners of a right angle.
    const Spline arch = ellipse_in_spans(10, 6, 0.0, pi, 80);
    const double whole = 30.0 * pi;
    const Mended cut = mended({trimmed(arch, 0.0, 77.0), Line{{-10, 0}, {10, 0}}}, 3.0);
    CHECK(cut.gap.closing == Gap::Closing::blended);
    const double width = cut.gap.width;
    // The end of the major axis: curvature a / b^2.
    const double lost_straight = 10.0 / 36.0 * width * width * width / 12.0;
    CHECK(std::abs(cut.area - whole) < 0.05 * lost_straight);
}

TEST_CASE("ends that say nothing about each other are joined straight") {
    // Two parallel lines, 0.3 mm apart, in a slot's side.
    const std::vector<Curve> jog = {Line{{0, 0}, {10, 0}}, Line{{10.1, 0.3}, {20, 0.3}},
                                    Line{{20, 0.3}, {20, 9}}, Line{{20, 9}, {0, 9}},
                                    Line{{0, 9}, {0, 0}}};
    const Mended plate = mended(jog, 1.0);
    CHECK(plate.gap.closing == Gap::Closing::bridged);
    // Trapezoids below the side, in closed form.
    CHECK(plate.area == Approx(180.0 - 0.1 * 0.15 - 9.9 * 0.3).epsilon(1e-12));

    // A spline and a line that passes beside its end, on the other side of where it bends to.
    std::vector<Curve> curves = plate_with_round_corner();
    curves[1] = Line{{-0.1, 6.4}, {-20, 6}};
    CHECK(mended(curves, 1.0).gap.closing == Gap::Closing::bridged);
}
