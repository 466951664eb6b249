/// Where parallel curves run backward, judged by the closed form of a parabola's curvature.

#include "offset/parallel.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace planform;
using offset_detail::parallel;
using offset_detail::Parallel;

namespace {

/// y = x^2 between two places, as a spline of degree 2; curvature 2 / (1 + 4 x^2)^(3/2).
Spline parabola(double from, double to) {
    const auto at = [](double x) { return Point2(x, x * x); };
    const Point2 middle(0.5 * (from + to), from * to);
    return Spline{2, {0, 0, 0, 1, 1, 1}, {at(from), middle, at(to)}, {}};
}

double curvature(double x) { return 2.0 / std::pow(1.0 + 4.0 * x * x, 1.5); }

bool has_lines(const Parallel& way) {
    return std::any_of(way.curves.begin(), way.curves.end(),
                       [](const Curve& curve) { return curve.index() == 0; });
}

}  // namespace

TEST_CASE("a parallel that runs backward next to an end only") {
    // The bend is tightest at x = 0, between the end and the first place that is looked at.
    for (const double end : {-0.002, -0.01, -0.02, -0.05})
        for (const bool reverse : {false, true}) {
            CAPTURE(end);
            const Curve forward = parabola(end, 2.0);
            const Curve curve = reverse ? reversed(forward) : forward;
            const double side = reverse ? 1.0 : -1.0;
            // Half way between what turns at the end, too, and what turns nowhere.
            const double distance = 2.0 / (curvature(0.0) + curvature(end));
            const Parallel turns = parallel(curve, side * distance, 1e-4);
            CHECK(turns.starts_apart);
            CHECK(turns.ends_apart);
            CHECK(has_lines(turns));
            CHECK(!has_lines(parallel(curve, side * 0.999 / curvature(0.0), 1e-4)));
        }
}
