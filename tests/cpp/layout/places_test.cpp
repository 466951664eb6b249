#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <random>

#include "planform/error.hpp"
#include "planform/layout.hpp"

using namespace planform;

namespace {

Rings box_rings(double left, double low, double right, double high) {
    return {{{left, low}, {right, low}, {right, high}, {left, high}}, {}};
}

double area(const Ring& ring) {
    double twice = 0.0;
    for (std::size_t i = 0; i < ring.size(); ++i)
        twice += cross(ring[i], ring[(i + 1) % ring.size()]);
    return 0.5 * twice;
}

Rings moved(Rings rings, const Vector2& shift) {
    for (Point2& point : rings.outer) point += shift;
    for (Ring& hole : rings.holes)
        for (Point2& point : hole) point += shift;
    return rings;
}

ProfileSet disc(double radius) {
    return ProfileSet({Profile(Contour({Arc{{0, 0}, radius, 0.3, 2.0 * pi}}))});
}

}  // namespace

TEST_CASE("squares go into a room column by column, as many as fit") {
    FreeSpace space(box_rings(0, 0, 103, 62), 0.7);
    const std::array<Rings, 1> square{box_rings(0, 0, 20, 20)};
    int count = 0;
    while (const auto place = space.find(square)) {
        CHECK(place->shift.x() == doctest::Approx(20.0 * (count / 3)).epsilon(1e-6));
        CHECK(place->shift.y() == doctest::Approx(20.0 * (count % 3)).epsilon(1e-6));
        const Rings there = moved(square[0], place->shift);
        CHECK(space.is_free(there));
        space.occupy(there);
        CHECK_FALSE(space.is_free(there));
        ++count;
    }
    CHECK(count == 15);
}

TEST_CASE("a shape as large as the room fits, one a hair larger does not") {
    FreeSpace space(box_rings(10, 20, 110, 70), 1.0);
    const std::array<Rings, 1> whole{box_rings(0, 0, 100, 50)};
    const auto place = space.find(whole);
    REQUIRE(place);
    CHECK(place->shift.x() == doctest::Approx(10));
    CHECK(place->shift.y() == doctest::Approx(20));
    const std::array<Rings, 1> larger{box_rings(0, 0, 100.001, 50)};
    CHECK_FALSE(space.find(larger));
}

TEST_CASE("holes of shapes are free, their material is not") {
    FreeSpace space(box_rings(0, 0, 100, 100), 0.5);
    Rings frame = box_rings(0, 0, 100, 100);
    frame.holes.push_back({{30, 30}, {30, 70}, {70, 70}, {70, 30}});
    space.occupy(frame);
    const std::array<Rings, 1> small{box_rings(0, 0, 30, 30)};
    const auto place = space.find(small);
    REQUIRE(place);
    CHECK(place->shift.x() == doctest::Approx(30).epsilon(1e-6));
    CHECK(place->shift.y() == doctest::Approx(30).epsilon(1e-6));
    space.occupy(moved(small[0], place->shift));
    CHECK_FALSE(space.find(small));
}

TEST_CASE("the largest clear rectangle: closed form beside a block") {
    FreeSpace space(box_rings(0, 0, 100, 60), 0.9);
    space.occupy(box_rings(0, 0, 37.5, 60));
    const auto rest = space.largest_rectangle();
    REQUIRE(rest);
    CHECK(rest->min().x() == doctest::Approx(37.5).epsilon(1e-9));
    CHECK(rest->sizes().x() == doctest::Approx(62.5).epsilon(1e-9));
    CHECK(rest->sizes().y() == doctest::Approx(60).epsilon(1e-9));
}

TEST_CASE("random triangles never overlap") {
    std::mt19937 random(5);
    std::uniform_real_distribution<double> size(5, 40);
    FreeSpace space(box_rings(0, 0, 200, 120), 0.6);
    std::vector<Ring> placed;
    for (int i = 0; i < 80; ++i) {
        const double w = size(random), h = size(random);
        const std::array<Rings, 2> ways{Rings{{{0, 0}, {w, 0}, {0.3 * w, h}}, {}},
                                        Rings{{{0, 0}, {-w, 0}, {-0.3 * w, -h}}, {}}};
        const auto place = space.find(ways);
        if (!place) continue;
        const Rings there = moved(ways[place->shape], place->shift);
        CHECK(space.is_free(there));
        for (const Point2& point : there.outer) {
            CHECK(point.x() >= -1e-6);
            CHECK(point.y() <= 120 + 1e-6);
        }
        space.occupy(there);
        placed.push_back(there.outer);
    }
    CHECK(placed.size() > 30);
    // Convex shapes overlap if no edge of either separates them (the separating axis theorem).
    for (std::size_t i = 0; i < placed.size(); ++i)
        for (std::size_t j = 0; j < i; ++j) {
            double best = -1e300;
            for (const auto& [a, b] : {std::pair(i, j), std::pair(j, i)})
                for (int k = 0; k < 3; ++k) {
                    const Point2 start = placed[a][k], end = placed[a][(k + 1) % 3];
                    const Vector2 out =
                        Vector2(end.y() - start.y(), start.x() - end.x()).normalized();
                    double least = 1e300;
                    for (const Point2& point : placed[b])
                        least = std::min(least, out.dot(point - start));
                    best = std::max(best, least);
                }
            CHECK(best >= -1e-6);
        }
}

TEST_CASE("containing polygons hold a grown disc and keep its box") {
    const auto polygons = containing_polygons(disc(10), 2.0, 0.02);
    REQUIRE(polygons.size() == 1);
    const Ring& ring = polygons[0].outer;
    CHECK(area(ring) > pi * 144);
    CHECK(area(ring) < pi * 12.02 * 12.02);
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Point2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
        CHECK(cross(b - a, -a) / (b - a).norm() >= 12.0 - 1e-9);
        CHECK(a.norm() <= 12.02 + 1e-9);
    }
    const auto extreme = std::max_element(
        ring.begin(), ring.end(), [](const Point2& a, const Point2& b) { return a.x() < b.x(); });
    CHECK(extreme->x() == doctest::Approx(12.0).epsilon(1e-12));
}

TEST_CASE("lines come back as they are, holes from the inside") {
    const Contour outer({Line{{0, 0}, {30, 0}}, Line{{30, 0}, {0, 20}}, Line{{0, 20}, {0, 0}}});
    const Contour hole({Arc{{7, 6}, 4, 0.0, 2.0 * pi}});
    const auto polygons = containing_polygons(ProfileSet({Profile(outer, {hole})}), 0.0, 0.05);
    REQUIRE(polygons.size() == 1);
    CHECK(polygons[0].outer == Ring{{0, 0}, {30, 0}, {0, 20}});
    REQUIRE(polygons[0].holes.size() == 1);
    CHECK(-area(polygons[0].holes[0]) < pi * 16);
    CHECK(-area(polygons[0].holes[0]) > pi * 15.6);
}

TEST_CASE("simplified polygons have fewer corners, hold the old one and stay within the bound") {
    Ring star;
    for (int i = 0; i < 200; ++i) {
        const double angle = 2.0 * pi * i / 200, radius = i % 2 == 0 ? 50.0 : 49.7;
        star.emplace_back(radius * std::cos(angle), radius * std::sin(angle));
    }
    const Ring simple = simplified_outward(star, 1.0);
    CHECK(simple.size() < 60);
    CHECK(area(simple) >= area(star));
    for (const Point2& point : simple) CHECK(point.norm() <= 51.0 + 1e-9);
    // Every old corner lies inside or is one of the new ones: 360 degrees about it, or less.
    for (const Point2& point : star) {
        double turned = 0.0, nearest = 1e300;
        for (std::size_t i = 0; i < simple.size(); ++i) {
            const Vector2 a = simple[i] - point, b = simple[(i + 1) % simple.size()] - point;
            turned += std::atan2(cross(a, b), a.dot(b));
            const double t = std::clamp(-a.dot(b - a) / (b - a).squaredNorm(), 0.0, 1.0);
            nearest = std::min(nearest, (a + t * (b - a)).norm());
        }
        CHECK((nearest < 1e-9 || turned > 6.28));
    }
}

TEST_CASE("polygons that overlap by a trace are moved apart and into the box") {
    std::vector<Ring> rings;
    for (int i = 0; i < 5; ++i) {
        const double x = 10.0 * i - 1e-4 * i;
        rings.push_back({{x, -1e-4}, {x + 10, 0}, {x + 10, 10}, {x, 10}});
    }
    const Box2 room(Point2(0, 0), Point2(std::numeric_limits<double>::infinity(), 10.01));
    const auto shifts = separated(rings, room, 1e-8);
    REQUIRE(shifts);
    for (int i = 0; i < 5; ++i) {
        CHECK((*shifts)[i].norm() < 2e-3);
        CHECK(rings[i][0].y() + (*shifts)[i].y() >= -1e-8);
        if (i > 0)
            CHECK(rings[i][0].x() + (*shifts)[i].x() >=
                  rings[i - 1][1].x() + (*shifts)[i - 1].x() - 1e-6);
    }
    // Where there is no room nothing is made up.
    const Box2 tight(Point2(0, 0), Point2(45, 10.01));
    CHECK_FALSE(separated(rings, tight, 1e-8));
}

TEST_CASE("shelves: exact fits, turns, what is left out") {
    const std::vector<ShelfItem> quarters(4, ShelfItem{50, 25});
    const auto places = shelves(quarters, 100, 50, 0.0, 9);
    REQUIRE(places.size() == 4);
    CHECK(std::all_of(places.begin(), places.end(),
                      [](const ShelfPlace& p) { return p.sheet == 0; }));
    CHECK(shelves(quarters, 100, 50, 0.01, 9).back().sheet == 3);
    CHECK(shelves(quarters, 100, 49, 0.0, 1).size() == 2);
    const std::array<ShelfItem, 2> rails{ShelfItem{10, 90, true}, ShelfItem{10, 90, false}};
    const auto turned = shelves(rails, 100, 50, 1.0, 5);
    REQUIRE(turned.size() == 1);
    CHECK(turned[0].turned);
    CHECK_THROWS_AS(shelves(rails, -1.0, 50, 1.0, 5), GeometryError);
}
