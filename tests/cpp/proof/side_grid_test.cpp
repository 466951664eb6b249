/// Winding numbers and distances on a grid of cells, against a ray over all sides (the parity rule
/// of M. Shimrat, Communications of the ACM 5 (1962), algorithm 112, with signs) and against all
/// distances.

#include "proof/side_grid.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <vector>

#include "curve/ray_parity.hpp"

using namespace planform;

namespace {

struct Side {
    Point2 start, end;
    int weight, set;
};

proof::Windings by_ray(const std::vector<Side>& sides, const Point2& place) {
    proof::Windings sum{};
    for (const Side& side : sides)
        if (detail::ray_crosses(place, side.start, side.end))
            sum[static_cast<std::size_t>(side.set)] +=
                side.start.y() < side.end.y() ? side.weight : -side.weight;
    return sum;
}

double distance(const Point2& p, const Side& side) {
    const Vector2 way = side.end - side.start;
    const double along =
        std::clamp((p - side.start).dot(way) / std::max(way.squaredNorm(), 1e-300), 0.0, 1.0);
    return (side.start + along * way - p).norm();
}

double nearest(const std::vector<Side>& sides, const Point2& place) {
    double least = std::numeric_limits<double>::infinity();
    for (const Side& side : sides) least = std::min(least, distance(place, side));
    return least;
}

/// Closed chains that cross themselves and each other; on whole numbers, where corners and sides
/// lie on lines of cells, or anywhere.
std::vector<Side> random_chains(std::mt19937_64& random, bool on_whole_numbers) {
    std::uniform_real_distribution<double> place(-20.0, 20.0);
    std::uniform_int_distribution<int> count(3, 40), weight(-2, 2), chains(1, 6), set(0, 2);
    std::vector<Side> sides;
    for (int chain = chains(random); chain > 0; --chain) {
        std::vector<Point2> corners;
        for (int i = count(random); i > 0; --i) {
            const Point2 corner(place(random), 0.7 * place(random));
            corners.push_back(on_whole_numbers ? Point2(corner.array().round()) : corner);
        }
        const int times = weight(random), of = set(random);
        for (std::size_t i = 0; i < corners.size(); ++i)
            sides.push_back({corners[i], corners[(i + 1) % corners.size()], times, of});
    }
    return sides;
}

}  // namespace

TEST_CASE("winding numbers and distances on the grid are those of a look at all sides") {
    std::mt19937_64 random(7);
    std::uniform_real_distribution<double> place(-25.0, 25.0);
    int asked = 0, wound = 0;
    for (int i = 0; i < 200; ++i) {
        const std::vector<Side> sides = random_chains(random, i % 2 == 0);
        proof::SideGrid grid;
        for (const Side& side : sides) grid.add(side.start, side.end, side.weight, side.set);
        grid.sort_into_cells();
        for (int k = 0; k < 100; ++k) {
            const Point2 at(place(random), place(random));
            const double least = nearest(sides, at);
            if (least < 1e-9) continue;
            const proof::Windings expected = by_ray(sides, at);
            REQUIRE(grid.windings(at) == expected);
            REQUIRE(grid.distance(at, 0.0) == doctest::Approx(least).epsilon(1e-12));
            ++asked;
            wound += expected != proof::Windings{};
        }
    }
    CHECK(asked > 19000);
    CHECK(wound > 3000);
}

TEST_CASE("an upright square, its diagonals, and places on the lines through its corners") {
    proof::SideGrid grid;
    const Point2 a(0, 0), b(8, 0), c(8, 8), d(0, 8);
    for (const auto& [from, to] : {std::pair(a, b), {b, c}, {c, d}, {d, a}}) grid.add(from, to);
    for (const auto& [from, to] : {std::pair(a, b), {b, c}, {c, a}}) grid.add(from, to, 1, 1);
    grid.sort_into_cells();
    CHECK(grid.windings({1, 4}) == proof::Windings{1, 0, 0});
    CHECK(grid.windings({4, 1}) == proof::Windings{1, 1, 0});
    CHECK(grid.windings({-1, 8}) == proof::Windings{});
    CHECK(grid.windings({-1, 0}) == proof::Windings{});
    CHECK(grid.windings({100, 4}) == proof::Windings{});
    CHECK(grid.distance({12, 11}, 0.0) == doctest::Approx(5.0));
    CHECK(grid.distance({1, 4}, 0.0, 1, 1) == doctest::Approx(3.0 / std::sqrt(2.0)));
    CHECK(std::isinf(proof::SideGrid().distance({0, 0}, 0.0)));
}

TEST_CASE("places on the line of sides that are level but for rounding, and end before them") {
    // A comb whose gaps are level with each other, as pins on their rail; noise of the last digit.
    std::mt19937_64 random(11);
    std::uniform_real_distribution<double> noise(-1e-15, 1e-15);
    for (int i = 0; i < 50; ++i) {
        std::vector<Point2> corners = {{-9, 2}, {-9, 0}, {1, 0}, {1, 2}};
        for (double x = 0.0; x > -9.0; x -= 2.0)
            for (const auto& [dx, y] :
                 {std::pair(0.25, 2.0), {0.25, 6.0}, {-0.25, 6.0}, {-0.25, 2.0}})
                corners.emplace_back(x + dx + noise(random), y + noise(random));
        proof::SideGrid grid;
        for (std::size_t k = 0; k < corners.size(); ++k)
            grid.add(corners[k], corners[(k + 1) % corners.size()]);
        grid.sort_into_cells();
        for (double x = 0.0; x > -9.0; x -= 2.0) {
            CHECK(grid.windings({x, 2.0}) == proof::Windings{1, 0, 0});
            CHECK(grid.windings({x, 4.0}) == proof::Windings{1, 0, 0});
            CHECK(grid.windings({x - 0.5, 1.0}) == proof::Windings{1, 0, 0});
            CHECK(grid.windings({x - 1.0, 6.0}) == proof::Windings{});
        }
    }
}
