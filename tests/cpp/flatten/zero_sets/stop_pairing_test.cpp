/// Starts and ends along a branch, in order and bent by what a model's edges miss each other by.

#include "flatten/zero_sets/stop_pairing.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace planform::flatten;

namespace {

double gap(double a, double b) { return std::abs(b - a); }
constexpr double slack = 1e-3;

}  // namespace

TEST_CASE("stops in order are joined in order") {
    const auto found = pair_stops({0.0, 2.0}, {1.0, 3.0}, std::nullopt, slack, gap);
    REQUIRE(found.size() == 1);
    CHECK(found[0].misplaced == 0.0);
    CHECK(found[0].ends[0].first == 0);
    CHECK(found[0].ends[1].first == 1);
}

TEST_CASE("an end that lies a hair before its start is its end; one that lies far before is not") {
    const auto found = pair_stops({1.0, 2.0}, {0.9999, 3.0}, std::nullopt, slack, gap);
    REQUIRE(found.size() == 1);
    CHECK(found[0].misplaced == doctest::Approx(1e-4));
    CHECK(found[0].ends[0].first == 0);
    CHECK(pair_stops({1.0, 2.0}, {0.9, 3.0}, std::nullopt, slack, gap).empty());
}

TEST_CASE("on a closed branch an end behind the last start is reached after a turn") {
    const auto found = pair_stops({1.0, 3.0}, {0.5, 2.0}, 6.0, slack, gap);
    REQUIRE(found.size() == 1);
    CHECK(found[0].ends[0].first == 1);
    CHECK(found[0].ends[0].second == 0);
    CHECK(found[0].ends[1].first == 0);
    CHECK(found[0].ends[1].second == 1);
}

TEST_CASE("a start and an end beside each other: next to nothing, or all the way round") {
    const auto found = pair_stops({1.0}, {1.0001}, 6.0, slack, gap);
    REQUIRE(found.size() == 2);
    CHECK(found[0].misplaced == 0.0);
    CHECK(found[0].ends[0].second == 0);
    CHECK(found[1].misplaced == doctest::Approx(1e-4));
    CHECK(found[1].ends[0].second == 1);
}
