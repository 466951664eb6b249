/// Offsets with known areas and lengths.
///
/// Sources: J. Steiner, "Über parallele Flächen", 1840: a convex set of area A and perimeter L
/// grown by d has the area A + L d + pi d^2 and the perimeter L + 2 pi d; inside, while a smooth
/// convex outline has no radius of curvature below d, the same with -d. The others are elementary.

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "offset/expected.hpp"
#include "planform/offset.hpp"
#include "profile/outlines.hpp"

using namespace planform;

namespace {

ProfileSet grown(const ProfileSet& set, double distance, Corners corners = Corners::round,
                 double limit = 4.0) {
    return offset(set, distance, {corners, limit}).profiles;
}

std::vector<Point2> regular(int corners, double radius) {
    std::vector<Point2> points;
    for (int i = 0; i < corners; ++i) {
        const double angle = 2.0 * pi * i / corners + 0.1;
        points.push_back({3.0 + radius * std::cos(angle), -2.0 + radius * std::sin(angle)});
    }
    return points;
}

/// What is left of a shape is known to the rounding of the shape's own area.
void check_rest(double value, double expected, const ProfileSet& shape) {
    CHECK(std::abs(value - expected) <= 1e-12 * shape.area());
}

}  // namespace

TEST_CASE("rectangles grow round, sharp and flat, and shrink") {
    const ProfileSet rectangle = set_of(outlines::rectangle(1, 2, 40, 30));
    for (const double d : {0.001, 0.5, 20.0}) {
        const ProfileSet round = grown(rectangle, d);
        check_near(round.area(), 1200 + 140 * d + pi * d * d);
        check_near(round.length(), 140 + 2 * pi * d);
        CHECK(round.profiles().at(0).outer().curves().size() == 8);
        const ProfileSet sharp = grown(rectangle, d, Corners::sharp);
        check_near(sharp.area(), (40 + 2 * d) * (30 + 2 * d));
        CHECK(sharp.profiles().at(0).outer().curves().size() == 4);
        const ProfileSet flat = grown(rectangle, d, Corners::flat);
        check_near(flat.area(), 1200 + 140 * d + 2 * d * d);
        CHECK(flat.profiles().at(0).outer().curves().size() == 8);
    }
    for (const double d : {0.001, 0.5, 14.999})
        for (const Corners corners : {Corners::round, Corners::sharp, Corners::flat}) {
            const ProfileSet shrunk = grown(rectangle, -d, corners);
            check_rest(shrunk.area(), (40 - 2 * d) * (30 - 2 * d), rectangle);
            CHECK(shrunk.profiles().at(0).outer().curves().size() == 4);
        }
    CHECK(grown(rectangle, -15.0).empty());
    CHECK(grown(rectangle, -400.0).empty());
}

TEST_CASE("convex polygons: Steiner's formulas") {
    for (const int corners : {3, 4, 5, 7, 12, 100}) {
        const ProfileSet polygon = set_of(Contour(outlines::polygon(regular(corners, 10.0))));
        for (const double d : {0.001, 1.0, 30.0}) {
            check_near(grown(polygon, d).area(),
                       polygon.area() + polygon.length() * d + pi * d * d);
            check_near(grown(polygon, d).length(), polygon.length() + 2 * pi * d);
        }
        // Shrunk, a regular polygon stays one: its apothem falls by d.
        const double apothem = 10.0 * std::cos(pi / corners);
        for (const double share : {0.01, 0.5, 0.99})
            check_rest(grown(polygon, -share * apothem).area(),
                       polygon.area() * (1 - share) * (1 - share), polygon);
    }
}

TEST_CASE("rings, slots and stadiums") {
    const ProfileSet ring =
        set_of(outlines::circle({5, 5}, 10, 0.3), {outlines::circle({5, 5}, 6)});
    check_near(grown(ring, 1.0).area(), pi * (121 - 25));
    check_near(grown(ring, -1.0).area(), pi * (81 - 49));
    check_near(grown(ring, 6.0).area(), pi * 256);
    CHECK(grown(ring, 6.0).profiles().at(0).holes().empty());
    CHECK(grown(ring, -2.0).empty());
    const ProfileSet stadium = set_of(Contour(outlines::slot(20, 4)));
    for (const double d : {-3.9, -1.0, 0.25, 7.0}) {
        const double radius = 4 + d;
        check_near(grown(stadium, d).area(), 40 * radius + pi * radius * radius);
        check_near(grown(stadium, d).length(), 40 + 2 * pi * radius);
        CHECK(grown(stadium, d).profiles().at(0).outer().curves().size() == 4);
    }
    CHECK(grown(stadium, -4.0).empty());
    const ProfileSet slotted =
        set_of(outlines::rectangle(-10, -10, 50, 20), {Contour(outlines::slot(20, 4))});
    const ProfileSet kerf = grown(slotted, 0.1);
    check_near(kerf.area(), 1000 + 14 + pi * 0.01 - (40 * 3.9 + pi * 3.9 * 3.9));
    CHECK(grown(slotted, 4.0).profiles().at(0).holes().empty());
}

TEST_CASE("an L: the inner corner stays sharp outward and is rounded inward") {
    const ProfileSet l = set_of(
        Contour(outlines::polygon({{0, 0}, {30, 0}, {30, 10}, {10, 10}, {10, 20}, {0, 20}})));
    const double d = 1.5;
    check_near(grown(l, d).area(), 400 + 100 * d + 5 * pi * d * d / 4 - d * d);
    check_near(grown(l, d).length(), 100 + 5 * pi * d / 2 - 2 * d);
    check_near(grown(l, -d).area(), 400 - 100 * d + 5 * d * d - pi * d * d / 4);
    check_near(grown(l, -d, Corners::sharp).area(), 400 - 100 * d + 5 * d * d - d * d);
}

TEST_CASE("regular stars") {
    for (const int points : {5, 8}) {
        std::vector<Point2> corners;
        for (int i = 0; i < 2 * points; ++i) {
            const double radius = i % 2 == 0 ? 20.0 : 9.0;
            const double angle = pi * i / points;
            corners.push_back({radius * std::cos(angle), radius * std::sin(angle)});
        }
        const ProfileSet star = set_of(Contour(outlines::polygon(corners)));
        const double side = star.length() / (2 * points);
        // Turn at a tip and at a dent: they add up to 2 pi / points.
        const Vector2 a = corners[1] - corners[0], b = corners[2] - corners[1];
        const double dent = -std::atan2(cross(a, b), a.dot(b));
        const double tip = 2 * pi / points + dent;
        const double d = 0.7;
        REQUIRE(d * std::tan(dent / 2) < side);
        check_near(grown(star, d).area(), star.area() + star.length() * d +
                                              points * d * d * (tip / 2 - std::tan(dent / 2)));
        check_rest(
            grown(star, -d).area(),
            star.area() - star.length() * d + points * d * d * (std::tan(tip / 2) - dent / 2),
            star);
    }
}

TEST_CASE("an ellipse: area and length of its parallel curve") {
    const double a = 20, b = 8;
    const ProfileSet ellipse =
        set_of(Contour({EllipticalArc{{1, 2}, {a, 0}, b / a, 0.4, 2 * pi}}), {}, 1e-6);
    const double area = pi * a * b, perimeter = ellipse.length();
    // Its least radius of curvature is b^2 / a = 3.2.
    for (const double d : {-3.1, -1.0, 0.001, 2.0, 50.0}) {
        const ProfileSet result = grown(ellipse, d);
        check_near(result.area(), area + perimeter * d + pi * d * d, 1e-9);
        check_near(result.length(), perimeter + 2 * pi * d, 1e-9);
    }
}
