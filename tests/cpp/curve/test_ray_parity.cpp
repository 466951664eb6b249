/// Inside or outside by the parity of crossings, and brackets halved.

#include <doctest/doctest.h>

#include <cmath>
#include <random>

#include "curve/bisection.hpp"
#include "curve/ray_parity.hpp"
#include "planform/curve.hpp"

using namespace planform;

TEST_CASE("parity: a star that crosses itself, held against its winding number") {
    // The even-odd rule counts the middle of a pentagram, which winds twice, as outside.
    std::vector<Point2> star;
    for (int i = 0; i < 5; ++i) {
        const double angle = 0.5 * pi + 4.0 * pi * i / 5.0;
        star.emplace_back(std::cos(angle), std::sin(angle));
    }
    CHECK(detail::ray_crossings(Point2(0.0, 0.0), star) % 2 == 0);
    CHECK(detail::ray_crossings(Point2(0.0, 0.7), star) % 2 == 1);
    std::mt19937_64 random(20);
    std::uniform_real_distribution<double> side(-1.0, 1.0);
    int inside = 0, twice = 0;
    for (int i = 0; i < 2000; ++i) {
        const Point2 place(side(random), side(random));
        double turns = 0.0;  // the angle that the boundary turns round the place
        for (std::size_t k = 0; k < star.size(); ++k) {
            const Vector2 a = star[k] - place, b = star[(k + 1) % star.size()] - place;
            turns += std::atan2(cross(a, b), a.dot(b)) / (2.0 * pi);
        }
        const auto winding = static_cast<int>(std::lround(turns));
        CHECK(detail::ray_crossings(place, star) % 2 == std::abs(winding) % 2);
        inside += winding == 1 ? 1 : 0;
        twice += winding == 2 ? 1 : 0;
    }
    CHECK(inside > 200);
    CHECK(twice > 100);
}

TEST_CASE("parity: sides that share a corner on the ray count once") {
    const std::vector<Point2> diamond{{1, 0}, {0, 1}, {-1, 0}, {0, -1}};
    CHECK(detail::ray_crossings(Point2(0.0, 0.0), diamond) == 1);
    CHECK(detail::ray_crossings(Point2(-2.0, 0.0), diamond) == 2);
    CHECK(detail::ray_crossings(Point2(-2.0, 1.0), diamond) == 0);
}

TEST_CASE("bisection: each halving halves the bracket, of numbers and of places") {
    const auto [low, high] = detail::bisected(1.0, 2.0, 30, [](double t) { return t * t < 2.0; });
    CHECK(high - low == std::ldexp(1.0, -30));
    CHECK(low <= std::sqrt(2.0));
    CHECK(high >= std::sqrt(2.0));
    const Point2 place = detail::bisected_place(Point2(0.0, 0.0), Point2(3.0, 4.0), 52,
                                                [](const Point2& p) { return p.norm() < 1.0; });
    CHECK(std::abs(place.x() - 0.6) < 1e-14);
    CHECK(std::abs(place.y() - 0.8) < 1e-14);
}
