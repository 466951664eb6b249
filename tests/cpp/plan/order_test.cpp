#include <doctest/doctest.h>

#include <algorithm>
#include <numeric>
#include <random>

#include "plan/pieces.hpp"
#include "planform/error.hpp"
#include "random_count.hpp"

namespace planform {
namespace {

using test::circle;
using test::piece;
using test::rectangle;

/// The least travel of all allowed orders, by trying all.
double least_travel(const std::vector<Stop>& stops, const Point2& home) {
    std::vector<int> order(stops.size());
    std::iota(order.begin(), order.end(), 0);
    double least = 1e300;
    do {
        std::vector<int> place(stops.size());
        for (int i = 0; i < static_cast<int>(order.size()); ++i)
            place[static_cast<std::size_t>(order[static_cast<std::size_t>(i)])] = i;
        bool allowed = true;
        for (std::size_t s = 0; s < stops.size(); ++s)
            if (stops[s].within >= 0 && place[static_cast<std::size_t>(stops[s].within)] < place[s])
                allowed = false;
        if (allowed) least = std::min(least, travel_length(stops, order, home));
    } while (std::next_permutation(order.begin(), order.end()));
    return least;
}

std::vector<Stop> random_stops(std::mt19937_64& random, int count) {
    std::uniform_real_distribution<double> place(0.0, 100.0);
    std::vector<Stop> stops;
    for (int s = 0; s < count; ++s) {
        const Point2 start(place(random), place(random));
        stops.push_back({start, start + Vector2(0.1 * place(random), 0.0), -1});
        // Later stops lie around earlier ones, so there are no circles.
        if (s > 0 && random() % 2 == 0) stops[random() % static_cast<std::uint64_t>(s)].within = s;
    }
    return stops;
}

TEST_CASE("the shortest order is that of all orders tried, for seven stops") {
    std::mt19937_64 random(7);
    int with_rules = 0;
    for (int i = 0; i < 60; ++i) {
        const std::vector<Stop> stops = random_stops(random, 7);
        for (const Stop& stop : stops) with_rules += stop.within >= 0;
        const Point2 home(0.0, 0.0);
        const double least = least_travel(stops, home);
        CHECK(travel_length(stops, shortest_order(stops, home), home) <= least * 1.02 + 1e-9);
    }
    CHECK(with_rules > 100);
}

TEST_CASE("no stop comes after the one that it lies within") {
    std::mt19937_64 random(11);
    for (const int count : {1, 2, 3, 40, random_count(300, 300)}) {
        const std::vector<Stop> stops = random_stops(random, count);
        const std::vector<int> order = shortest_order(stops, {50.0, 50.0});
        REQUIRE(order.size() == stops.size());
        std::vector<int> place(stops.size(), -1);
        for (int i = 0; i < count; ++i)
            place[static_cast<std::size_t>(order[static_cast<std::size_t>(i)])] = i;
        for (std::size_t s = 0; s < stops.size(); ++s) {
            REQUIRE(place[s] >= 0);
            if (stops[s].within >= 0)
                CHECK(place[s] < place[static_cast<std::size_t>(stops[s].within)]);
        }
        CHECK(shortest_order(stops, {50.0, 50.0}) == order);
    }
}

TEST_CASE("stops within each other in a circle, or within none, are refused") {
    const Point2 p(0.0, 0.0);
    CHECK_THROWS_AS(shortest_order({{p, p, 1}, {p, p, 0}}, p), GeometryError);
    CHECK_THROWS_AS(shortest_order({{p, p, 0}}, p), GeometryError);
    CHECK_THROWS_AS(shortest_order({{p, p, 5}}, p), GeometryError);
    CHECK(shortest_order({}, p).empty());
}

TEST_CASE("marks come first, then what lies in a hole, the hole, the contour around it") {
    // A ring, in its hole a washer of its own set (an island) and a piece of another.
    const Profile ring(circle({0, 0}, 50), {circle({0, 0}, 40)});
    const Profile island(circle({-20, 0}, 10), {circle({-20, 0}, 4)}, "", 0);
    const std::vector<PlacedPiece> pieces{
        piece({ring, island}, {{circle({45, 0}, 2), "label"}}),
        piece({Profile(rectangle(10, -8, 26, 8))}),
    };
    for (const CutOrder order : {CutOrder::shortest, CutOrder::apart, CutOrder::along}) {
        PlanOptions options;
        options.order = order;
        const CutPlan plan = plan_cuts(pieces, options);
        REQUIRE(plan.cuts.size() == 6);
        CHECK(plan.cuts[0].role == CutRole::mark);
        const auto place = [&](int p, int profile, int contour) {
            const auto found = std::find_if(plan.cuts.begin(), plan.cuts.end(), [&](const Cut& c) {
                return c.piece == p && c.profile == profile && c.contour == contour;
            });
            return static_cast<int>(found - plan.cuts.begin());
        };
        CHECK(place(0, 1, 1) < place(0, 1, 0));
        CHECK(place(0, 1, 0) < place(0, 0, 1));
        CHECK(place(1, 0, 0) < place(0, 0, 1));
        CHECK(place(0, 0, 1) < place(0, 0, 0));
        CHECK(plan.cuts[static_cast<std::size_t>(place(1, 0, 0))].within == place(0, 0, 1));
        CHECK(plan.proof.laws().size() == 3);
    }
}

TEST_CASE("cuts that follow each other keep apart where that can be had") {
    std::vector<PlacedPiece> pieces;
    for (int i = 0; i < 12; ++i) pieces.push_back(piece({Profile(circle({30.0 * i, 0}, 10))}));
    const auto least_gap = [&](const PlanOptions& options) {
        const CutPlan plan = plan_cuts(pieces, options);
        double least = 1e300;
        for (std::size_t i = 1; i < plan.cuts.size(); ++i)
            least = std::min(least, 30.0 * std::abs(plan.cuts[i].piece - plan.cuts[i - 1].piece));
        return least;
    };
    PlanOptions options;
    CHECK(least_gap(options) == 30.0);
    options.order = CutOrder::apart;
    options.apart_count = 1;
    options.apart_distance = 35.0;
    CHECK(least_gap(options) >= 60.0);
}

/// A square plate with `holes` holes, and so as many cuts and one.
PlacedPiece holed(double x, int holes) {
    std::vector<Contour> circles;
    for (int i = 0; i < holes; ++i) circles.push_back(circle({x + 5.0 + 4.0 * i, 20.0}, 1.5));
    return piece({Profile(rectangle(x, 0, x + 40.0, 40), circles)});
}

/// Pairs of cuts, at most `count` places apart, of the same piece.
int pairs_of_one_piece(const CutPlan& plan, std::size_t count) {
    int pairs = 0;
    for (std::size_t i = 0; i < plan.cuts.size(); ++i)
        for (std::size_t j = i + 1; j <= i + count && j < plan.cuts.size(); ++j)
            pairs += plan.cuts[i].piece == plan.cuts[j].piece;
    return pairs;
}

TEST_CASE("cuts of one plate are as far apart in the order as others allow") {
    PlanOptions options;
    options.order = CutOrder::apart;
    options.apart_distance = 30.0;
    // Four plates of seven cuts, two cuts between two of one plate: there are enough for none to be
    // near.
    options.apart_count = 2;
    std::vector<PlacedPiece> plates;
    for (int i = 0; i < 4; ++i) plates.push_back(holed(100.0 * i, 6));
    CHECK(pairs_of_one_piece(plan_cuts(plates, options), 2) == 0);
    // One of nine cuts and three alone: the three part at most four runs, and five pairs are left.
    options.apart_count = 1;
    std::vector<PlacedPiece> few{holed(0.0, 8)};
    for (int i = 1; i < 4; ++i) few.push_back(holed(100.0 * i, 0));
    CHECK(pairs_of_one_piece(plan_cuts(few, options), 1) == 9 - 1 - 3);
}

TEST_CASE("of orders that keep apart one with little travel is taken") {
    // Discs in a row, none nearer than two places on: by hand out along every third, back
    // along the next, out along the last.
    std::vector<PlacedPiece> pieces;
    for (int i = 0; i < 21; ++i) pieces.push_back(piece({Profile(circle({30.0 * i, 0}, 10))}));
    PlanOptions options;
    options.entry.length = 0.0;
    options.order = CutOrder::apart;
    options.apart_count = 1;
    options.apart_distance = 35.0;
    const CutPlan plan = plan_cuts(pieces, options);
    for (std::size_t i = 1; i < plan.cuts.size(); ++i)
        CHECK(std::abs(plan.cuts[i].piece - plan.cuts[i - 1].piece) >= 2);
    CHECK(plan.travel() <= 1.05 * 3.0 * 600.0);
}

TEST_CASE("in bands along the sheet nothing is cut before the band before it") {
    std::vector<PlacedPiece> pieces;
    for (int x = 0; x < 8; ++x)
        for (int y = 0; y < 4; ++y)
            pieces.push_back(piece({Profile(circle({100.0 * x, 30.0 * y}, 10))}));
    PlanOptions options;
    options.order = CutOrder::along;
    options.band = 100.0;
    const CutPlan plan = plan_cuts(pieces, options);
    for (std::size_t i = 1; i < plan.cuts.size(); ++i)
        CHECK(plan.cuts[i - 1].piece / 4 <= plan.cuts[i].piece / 4);
}

}  // namespace
}  // namespace planform
