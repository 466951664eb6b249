/// Closed forms of narrowest widths, at any angle and place. Random outlines against another
/// library are in tests/python/test_narrow_places.py.

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "planform/error.hpp"
#include "planform/inspect.hpp"
#include "profile/outlines.hpp"

using namespace planform;

namespace {

ProfileSet plate(std::vector<Contour> holes) {
    return ProfileSet({Profile(outlines::rectangle(-50, -50, 100, 100), std::move(holes))});
}

ProfileSet turned(const ProfileSet& set, double angle) {
    Transform2 transform{Eigen::Translation2d(17.0, -4.0)};
    transform.rotate(angle);
    return set.transformed(transform);
}

std::vector<double> widths(const ProfileSet& set, double at_most, NarrowPlace::Kind kind) {
    std::vector<double> result;
    for (const NarrowPlace& place : narrow_places(set, at_most))
        if (place.kind == kind) result.push_back(place.width);
    return result;
}

void check_one(const std::vector<double>& found, double expected) {
    REQUIRE(found.size() == 1);
    CHECK(std::abs(found[0] - expected) < 1e-8);
}

constexpr double angles[] = {0.0, 0.4, 2.5};

}  // namespace

TEST_CASE("holes: diameter, minor axis, width of a slot") {
    for (const double angle : angles) {
        const auto inner = [&](Contour hole) {
            return widths(turned(plate({std::move(hole)}), angle), 20.0, NarrowPlace::Kind::inner);
        };
        check_one(inner(outlines::circle({3, 4}, 2.5)), 5.0);
        check_one(inner(Contour({EllipticalArc{{1, 1}, {0, 6}, 0.25, 0.0, 2.0 * pi}})), 3.0);
        check_one(inner(Contour(outlines::slot(12.0, 0.75))), 1.5);
        check_one(inner(outlines::rectangle(0, 0, 9, 2)), 2.0);
    }
}

TEST_CASE("webs: between circles d - r1 - r2, to the edge, of a ring") {
    for (const double angle : angles) {
        const auto web = [&](const ProfileSet& set) {
            return widths(turned(set, angle), 4.0, NarrowPlace::Kind::web);
        };
        check_one(web(plate({outlines::circle({-3, 0}, 2), outlines::circle({3, 2}, 1.5)})),
                  std::hypot(6.0, 2.0) - 3.5);
        check_one(web(plate({outlines::circle({44.5, 0}, 3)})), 2.5);
        check_one(web(ProfileSet(
                      {Profile(outlines::circle({0, 0}, 10), {outlines::circle({0.5, 0}, 8)})})),
                  1.5);
    }
}

TEST_CASE("the middle of four holes on a grid is no web") {
    // Webs of 1 mm along the grid; across it the disc in the middle touches all four.
    std::vector<Contour> holes;
    for (int x = 0; x < 3; ++x)
        for (int y = 0; y < 3; ++y) holes.push_back(outlines::circle({3.0 * x, 3.0 * y}, 1.0));
    const std::vector<double> found = widths(plate(holes), 2.5, NarrowPlace::Kind::web);
    CHECK(found.size() == 12);
    for (const double width : found) CHECK(width == doctest::Approx(1.0).epsilon(1e-12));
}

TEST_CASE("corners are no narrow places, touching contours are of no width") {
    const ProfileSet wedge({Profile(Contour(outlines::polygon({{0, 0}, {40, 0}, {0, 6}})))});
    CHECK(narrow_places(wedge, 4.0).empty());
    const ProfileSet squares(
        {Profile(outlines::rectangle(0, 0, 10, 10)), Profile(outlines::rectangle(10, 10, 10, 10))});
    const std::vector<Finding> found = inspect(squares);
    REQUIRE(found.size() == 1);
    CHECK(found[0].rule == RuleKind::point_touch);
    CHECK((found[0].place - Point2(10, 10)).norm() < 1e-9);
}

TEST_CASE("limits of half a thickness") {
    const auto count = [](double diameter) {
        InspectOptions options;
        options.thickness = 3.0;
        return inspect(plate({outlines::circle({0, 0}, 0.5 * diameter)}), options).size();
    };
    CHECK(count(1.49) == 1);
    CHECK(count(1.5) == 0);
    CHECK(count(1.51) == 0);
}

TEST_CASE("numbers that make no sense") {
    CHECK_THROWS_AS(narrow_places(plate({}), 0.0), GeometryError);
    CHECK_THROWS_AS(narrow_places(plate({}), std::numeric_limits<double>::infinity()),
                    GeometryError);
    InspectOptions options;
    options.thickness = -1.0;
    CHECK_THROWS_AS(inspect(plate({}), options), GeometryError);
    options = {};
    options.sheet = Sheet{100.0, 100.0, -1.0};
    CHECK_THROWS_AS(inspect(plate({}), options), GeometryError);
    CHECK(narrow_places(ProfileSet(), 1.0).empty());
    CHECK(inspect(ProfileSet()).empty());
}

TEST_CASE("rules: one of each kind, in order, each with words") {
    const RuleSet rules;
    REQUIRE(rules.rules().size() == all_rule_kinds().size());
    for (std::size_t i = 0; i < rules.rules().size(); ++i) {
        CHECK(static_cast<std::size_t>(rules.rules()[i].kind) == i);
        CHECK(!word_for(rules.rules()[i].kind).empty());
        CHECK(!rules.rules()[i].source.empty());
        CHECK(!rules.rules()[i].description.empty());
    }
    CHECK_THROWS_AS(rules.with_limit(RuleKind::island, 1.0), GeometryError);
    CHECK_THROWS_AS(rules.with_limit(RuleKind::web, -1.0), GeometryError);
    CHECK(rules.with_limit(RuleKind::web, 2.0, LimitUnit::millimetres).rule(RuleKind::web).limit ==
          2.0);
}
