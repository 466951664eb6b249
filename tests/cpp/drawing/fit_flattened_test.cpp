#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "planform/error.hpp"
#include "planform/flattened.hpp"

namespace planform {
namespace {

/// A rounded bar, 60 x 20 mm with ends of radius 10: two lines and two half circles, each of
/// `count` chords.
std::vector<Curve> bar(int count) {
    std::vector<Point2> points;
    for (const double middle : {30.0, -30.0})
        for (int k = 0; k <= count; ++k) {
            const double angle = (middle > 0.0 ? -0.5 : 0.5) * pi + pi * k / count;
            points.emplace_back(middle + 10.0 * std::cos(angle), 10.0 * std::sin(angle));
        }
    std::vector<Curve> lines;
    for (std::size_t k = 0; k < points.size(); ++k)
        lines.push_back(Line{points[k], points[(k + 1) % points.size()]});
    return lines;
}

TEST_CASE("a flattened outline comes back as the curves that it was made of") {
    const std::vector<Curve> lines = bar(50);
    const std::vector<FittedCurve> fitted = fit_flattened(lines, 0.02);
    REQUIRE(fitted.size() == 4);
    int arcs = 0;
    int stood_for = 0;
    for (const FittedCurve& piece : fitted) {
        stood_for += piece.count;
        const auto* arc = std::get_if<Arc>(&piece.curve);
        if (arc == nullptr) continue;
        ++arcs;
        CHECK(arc->radius == doctest::Approx(10.0).epsilon(1e-9));
        CHECK(std::abs(arc->sweep) == doctest::Approx(pi).epsilon(1e-9));
        CHECK(std::abs(arc->center.x()) == doctest::Approx(30.0).epsilon(1e-9));
    }
    CHECK(arcs == 2);
    CHECK(stood_for == static_cast<int>(lines.size()));
}

TEST_CASE("neighbours of a fitted chain meet") {
    const std::vector<FittedCurve> fitted = fit_flattened(bar(33), 0.02);
    for (std::size_t k = 0; k < fitted.size(); ++k) {
        const Curve& next = fitted[(k + 1) % fitted.size()].curve;
        CHECK((end_point(fitted[k].curve) - start_point(next)).norm() < 1e-9);
    }
}

TEST_CASE("chords too coarse for the tolerance stay lines") {
    // The middle of each of 6 chords of a half circle of 10 mm is 0.34 mm off it.
    CHECK(fit_flattened(bar(6), 0.02).size() == bar(6).size());
    CHECK(fit_flattened(bar(6), 0.4).size() <= 4);
}

TEST_CASE("what can't be fitted is refused") {
    CHECK(fit_flattened({}, 0.02).empty());
    CHECK_THROWS_AS(fit_flattened(bar(9), -1.0), GeometryError);
    const std::vector<Curve> apart = {Line{{0, 0}, {1, 0}}, Line{{2, 0}, {3, 0}}};
    CHECK_THROWS_AS(fit_flattened(apart, 0.02, false), GeometryError);
}

}  // namespace
}  // namespace planform
