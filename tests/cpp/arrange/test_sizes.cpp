/// From a millimetre to 100 m, at 0.01 mm and finer: what counts as nothing is a share of the
/// tolerance, also where the grid's cell is coarser than a thousandth of it.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "arrange/random_shapes.hpp"
#include "arrange/shapes.hpp"
#include "grid/grid.hpp"

namespace planform::arrange::test {
namespace {

/// The furthest point to the right of all loops but that at the far end of the drawing.
double rightmost_before(const std::vector<Loop>& loops, double limit) {
    double right = -INFINITY;
    for (const Loop& loop : loops)
        for (const Curve& curve : loop.curves)
            for (const Point2& end : {start_point(curve), end_point(curve)})
                if (end.x() < limit) right = std::max(right, end.x());
    return right;
}

TEST_CASE("the tip of a wedge does not reach through what cuts it off") {
    for (const auto& [size, tolerance] : {std::pair(1e2, 1e-2),
                                          {1e4, 1e-2},
                                          {3e4, 1e-2},
                                          {1e5, 1e-2},
                                          {1e2, 1e-4},
                                          {1e3, 1e-4},
                                          {1e4, 1e-3}}) {
        CAPTURE(size);
        CAPTURE(tolerance);
        // The grid closes the wedge some half of a cell over its slope before the tip; a strip is
        // taken off at two thirds of that from the tip.
        const double cell = std::max(tolerance / 1000.0, 0.5 * size / grid::Grid::largest);
        for (const double slope : {2e-3, 4e-3, 8e-3}) {
            const double cut = 0.66 * cell / slope;
            const double length = 0.02 * size, height = slope * length;
            Shapes shapes;
            shapes.polygon({{-length, 0.0}, {0.0, 0.37 * cell}, {-length, height}})
                .rectangle(0.9 * size, 0.0, size, 0.1 * size)
                .rectangle(-cut, -height, cut, height, 1);
            Options options;
            options.tolerance = tolerance;
            options.inside = first_only;
            const std::vector<Loop> left = arrange(shapes.input(), options);
            REQUIRE(left.size() == 2);
            CHECK(rightmost_before(left, 0.5 * size) <= -cut + tolerance);
        }
    }
}

TEST_CASE("areas follow the size from 1 mm to 100 m") {
    const Input shapes = random_input(7, false);
    const double expected = area(arrange(shapes));
    REQUIRE(expected > 100.0);
    // The shapes are some 40 mm across.
    for (const double factor : {0.025, 1.0, 2.5e1, 2.5e2, 2.5e3}) {
        const Transform2 scale(Eigen::Scaling(factor));
        const Input scaled = transformed(shapes, scale);
        for (const double tolerance : {1e-2, 1e-4}) {
            CAPTURE(factor);
            CAPTURE(tolerance);
            Options options;
            options.tolerance = tolerance * std::min(1.0, factor);
            const std::vector<Loop> loops = arrange(scaled, options);
            CHECK(fault(loops, std::max(options.tolerance, 1e-7 * factor), 1e-4 * factor) == "");
            CHECK(area(loops) / (factor * factor) == doctest::Approx(expected).epsilon(1e-9));
        }
    }
}

}  // namespace
}  // namespace planform::arrange::test
