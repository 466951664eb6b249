/// What of an outline is left when a part is missing, and what is a stray. There is no closed form
/// for what a person means: the cases are those of outlines of two curves, by construction.

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "planform/drawing.hpp"

using namespace planform;
using doctest::Approx;

namespace {

std::vector<Curve> plate_and(std::vector<Curve> more) {
    std::vector<Curve> curves = {Line{{0, 0}, {90, 0}}, Line{{90, 0}, {90, 60}},
                                 Line{{90, 60}, {0, 60}}, Line{{0, 60}, {0, 0}}};
    curves.insert(curves.end(), more.begin(), more.end());
    return curves;
}

/// The one chain that stays open.
struct Left {
    bool stray;
    std::vector<Gap> gaps;
};

Left left_of(const std::vector<Curve>& curves) {
    const ClosedContours closed = close_contours(curves, {.gap = 0.1});
    REQUIRE(closed.open.size() == 1);
    return {closed.open[0].stray, closed.gaps};
}

}  // namespace

TEST_CASE("one curve of a contour of two is an open outline when it is all there is") {
    for (const Curve& curve : {Curve(Line{{0, 0}, {30, 0}}), Curve(Arc{{0, 0}, 10, 0.3, 0.5}),
                               Curve(Arc{{0, 0}, 10, 0.3, pi})}) {
        const Left left = left_of({curve});
        CHECK_FALSE(left.stray);
        REQUIRE(left.gaps.size() == 1);
        CHECK(left.gaps[0].width ==
              Approx((end_point(curve) - start_point(curve)).norm()).epsilon(1e-12));
    }
}

TEST_CASE("a curve that comes back is an open outline anywhere") {
    // Keyholes and the arc of a D: chords 2 r sin(sweep / 2).
    for (const double sweep : {5.5, 4.0, -pi, 2.2}) {
        const Left left = left_of(plate_and({Arc{{140, 30}, 12, 1.0, sweep}}));
        CHECK_FALSE(left.stray);
        REQUIRE(left.gaps.size() == 1);
        CHECK(left.gaps[0].width == Approx(24 * std::sin(0.5 * std::abs(sweep))).epsilon(1e-12));
    }
    CHECK(left_of(plate_and({Arc{{140, 30}, 12, 1.0, 2.0}})).stray);
}

TEST_CASE("within an outline a bent curve is the rest of a hole, a line is a stray") {
    CHECK_FALSE(left_of(plate_and({Arc{{40, 30}, 12, 1.0, 1.2}})).stray);
    CHECK(left_of(plate_and({Line{{20, 20}, {50, 30}}})).stray);
    CHECK(left_of(plate_and({Arc{{140, 30}, 12, 1.0, 1.2}})).stray);
}

TEST_CASE("what hangs on a corner is an outline if it comes back to it") {
    const std::vector<Curve> slot = {Line{{90, 60}, {120, 60}}, Arc{{120, 66}, 6, -0.5 * pi, pi},
                                     Line{{120, 72}, {95, 72}}};
    const Left left = left_of(plate_and(slot));
    CHECK_FALSE(left.stray);
    REQUIRE(left.gaps.size() == 1);
    CHECK(left.gaps[0].width == Approx(13.0));
    // A leader with a bend.
    CHECK(left_of(plate_and({Line{{90, 60}, {100, 70}}, Line{{100, 70}, {115, 70}}})).stray);
}
