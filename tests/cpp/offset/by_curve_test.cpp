/// Distances by role and by curve, of both signs: closed forms of elementary geometry.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

#include "offset/expected.hpp"
#include "planform/offset.hpp"
#include "profile/outlines.hpp"

using namespace planform;

namespace {

ProfileSet moved(const ProfileSet& set, const std::vector<double>& distances,
                 const OffsetOptions& options = {}) {
    std::size_t next = 0;
    return offset(
               set, [&](const CurvePlace&) { return distances[next++]; }, options)
        .profiles;
}

double shoelace(const std::vector<Point2>& p) {
    double area = 0.0;
    for (std::size_t i = 0; i < p.size(); ++i) area += 0.5 * cross(p[i], p[(i + 1) % p.size()]);
    return area;
}

/// The corners of a polygon with each side on its own line.
std::vector<Point2> shifted(const std::vector<Point2>& p, const std::vector<double>& distances) {
    const std::size_t count = p.size();
    std::vector<Point2> corners;
    for (std::size_t i = 0; i < count; ++i) {
        const std::size_t before = (i + count - 1) % count;
        const auto side = [&](std::size_t k) {
            const Vector2 along = (p[(k + 1) % count] - p[k]).normalized();
            return std::pair(Point2(p[k] + distances[k] * Vector2(along.y(), -along.x())), along);
        };
        const auto [a, u] = side(before);
        const auto [b, v] = side(i);
        corners.push_back(a + cross(b - a, v) / cross(u, v) * u);
    }
    return corners;
}

double least_turn(const std::vector<Point2>& p) {
    double least = pi;
    for (std::size_t i = 0; i < p.size(); ++i) {
        const Vector2 a = p[(i + 1) % p.size()] - p[i];
        const Vector2 b = p[(i + 2) % p.size()] - p[(i + 1) % p.size()];
        least = std::min(least, std::abs(std::atan2(cross(a, b), a.dot(b))));
    }
    return least;
}

/// Area of the part of a disc beyond a line at `height` from its centre.
double segment(double radius, double height) {
    const double half = std::acos(height / radius);
    return radius * radius * (half - std::sin(half) * std::cos(half));
}

}  // namespace

TEST_CASE("polygons: every side on a line of its own") {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> distance(-0.1, 0.1);
    int seen = 0;
    for (int round = 0; round < 60; ++round) {
        std::vector<Point2> corners;
        const int count = 4 + round % 9;
        for (int i = 0; i < count; ++i) {
            const double radius = i % 2 == 0 ? 20.0 : 12.0 + round % 7;
            const double angle = 2 * pi * (i + 0.2 * std::sin(round + i)) / count;
            corners.push_back({radius * std::cos(angle), radius * std::sin(angle)});
        }
        // Sides that go almost straight on meet far away, or not at all.
        if (least_turn(corners) < 0.2) continue;
        std::vector<double> distances;
        for (int i = 0; i < count; ++i)
            distances.push_back(i % 5 == 3 ? 0.0 : distance(random) + 0.05 * (round % 3 - 1));
        const ProfileSet result =
            moved(set_of(Contour(outlines::polygon(corners))), distances, {Corners::sharp, 100.0});
        REQUIRE(result.profiles().size() == 1);
        check_near(result.area(), shoelace(shifted(corners, distances)));
        CHECK(result.profiles()[0].outer().curves().size() == corners.size());
        ++seen;
    }
    CHECK(seen > 25);
}

TEST_CASE("a finger joint: its walls by the fit, all else by the width of cut") {
    const std::vector<Point2> comb{{0, 0},   {40, 0},  {40, 20}, {30, 20}, {30, 14},
                                   {20, 14}, {20, 20}, {10, 20}, {10, 14}, {0, 14}};
    std::vector<double> distances(comb.size(), 0.075);
    for (const std::size_t wall : {3, 5, 7}) distances[wall] = 0.075 - 0.1;
    const ProfileSet result =
        moved(set_of(Contour(outlines::polygon(comb))), distances, {Corners::sharp, 4.0});
    check_near(result.area(), shoelace(shifted(comb, distances)));
}

TEST_CASE("by role") {
    const ProfileSet set({Profile(outlines::circle({0, 0}, 20), {outlines::circle({0, 0}, 15)}),
                          Profile(outlines::circle({0, 0}, 8), {}, "", 0)});
    const auto by_role = [](const CurvePlace& place) {
        return place.role == ContourRole::outer  ? 1.0
               : place.role == ContourRole::hole ? -2.0
                                                 : 3.0;
    };
    const ProfileSet result = offset(set, by_role).profiles;
    check_near(result.area(), pi * (21 * 21 - 17 * 17 + 11 * 11));
    CHECK(result.islands().size() == 1);
}

TEST_CASE("tangent neighbours step along the normal") {
    // The rounds of a stadium grow, its sides stay, or are taken from.
    const ProfileSet stadium = set_of(Contour(outlines::slot(20, 4)));
    check_near(moved(stadium, {0, 0.5, 0, 0.5}).area(), 160 + pi * 4.5 * 4.5);
    check_near(moved(stadium, {0.25, 0, 0.25, 0}).area(), 160 + 10 + pi * 16);
    check_near(moved(stadium, {-0.5, 0.5, -0.5, 0.5}).area(), 160 - 20 + pi * 4.5 * 4.5);
    check_near(moved(stadium, {0.5, -0.5, 0.5, -0.5}).area(), 160 + 20 + pi * 3.5 * 3.5);
}

TEST_CASE("arcs go on as arcs to meet their neighbours") {
    const double r = 10, h = -4;  // chord at y = h, the arc above
    const double half = std::acos(-h / r);
    const ProfileSet dome = set_of(Contour({Line{{-r * std::sin(half), h}, {r * std::sin(half), h}},
                                            Arc{{0, 0}, r, -pi / 2 + half, 2 * (pi - half)}}));
    check_near(dome.area(), segment(r, h));
    for (const double chord : {-1.0, 0.0, 0.5})
        for (const double round : {-0.5, 0.0, 1.5}) {
            if (chord == 0.5 && round == 0.5) continue;
            if (chord == round) continue;
            check_near(moved(dome, {chord, round}, {Corners::sharp, 20.0}).area(),
                       segment(r + round, h - chord));
        }
}

TEST_CASE("what gives and what takes, where contours meet") {
    const ProfileSet plate = set_of(outlines::rectangle(-20, -20, 52, 40),
                                    {outlines::circle({0, 0}, 5), outlines::circle({12, 0}, 5)});
    const auto by_role = [](double outer, double hole) {
        return [=](const CurvePlace& place) {
            return place.role == ContourRole::outer ? outer : hole;
        };
    };
    const OffsetOptions sharp{Corners::sharp, 4.0};
    // The holes grow into one; two discs of radius 7 that overlap by two segments.
    const Allowed joined = offset(plate, by_role(1.0, -2.0), sharp);
    REQUIRE(joined.profiles.profiles().size() == 1);
    CHECK(joined.profiles.profiles()[0].holes().size() == 1);
    const double holes = 2 * pi * 49 - 2 * segment(7, 6);
    check_near(joined.profiles.area(), 54 * 42 - holes);
    REQUIRE(joined.findings.size() == 1);
    CHECK(joined.findings[0].rule == RuleKind::merged);
    // A hole that grows through the edge, which grows, too: it is open there.
    const ProfileSet edge =
        set_of(outlines::rectangle(-20, -20, 40, 26), {outlines::circle({0, 0}, 5)});
    const ProfileSet open = offset(edge, by_role(0.5, -2.0), sharp).profiles;
    REQUIRE(open.profiles().size() == 1);
    CHECK(open.profiles()[0].holes().empty());
    check_near(open.area(), 41 * 27 - (pi * 49 - segment(7, 6.5)));
    // One side of a bar gives, the other takes more than there is.
    const ProfileSet bar = set_of(outlines::rectangle(0, 0, 30, 2));
    CHECK(moved(bar, {-2.5, 0, 0.25, 0}, sharp).empty());
    check_near(moved(bar, {-1.5, 0, 0.25, 0}, sharp).area(), 30 * 0.75);
    // Two combs, the fingers of one widened so that they meet, their ends taken back.
    const ProfileSet fork = set_of(Contour(outlines::polygon(
        {{0, 0}, {20, 0}, {20, 10}, {12, 10}, {12, 4}, {8, 4}, {8, 10}, {0, 10}})));
    const ProfileSet filled = moved(fork, {0, 0, -1, 2, 0, 2, -1, 0}, sharp);
    check_near(filled.area(), 20 * 9);
}
