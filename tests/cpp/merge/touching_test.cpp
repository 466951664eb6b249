/// Bodies that touch, overlap, nest or coincide: a table of what comes out. Areas are closed forms.

#include <doctest/doctest.h>

#include "merge/sets.hpp"

using namespace sets;

namespace {

struct Case {
    const char* what;
    std::vector<ProfileSet> bodies;
    /// United: profiles, holes, curves, area.
    std::size_t profiles, holes, curves;
    double area;
    std::vector<int> depths;  ///< of the united profiles
    /// Kept apart: profiles and marks.
    std::size_t kept, marks;
};

/// Area that two circles have in common (circular segments).
double lens(double radius, double distance) {
    const double half = std::acos(distance / (2 * radius));
    return 2 * radius * radius * (half - std::sin(half) * std::cos(half));
}

std::vector<ProfileSet> nested_rings() {
    std::vector<ProfileSet> rings{disc({0, 0}, 1, "a")};
    for (int i = 1; i < 5; ++i) rings.push_back(ring({0, 0}, 3 * i + 1, 3 * i - 1, "b"));
    return rings;
}

double nested_area() {
    double area = pi;
    for (int i = 1; i < 5; ++i)
        area += pi * ((3 * i + 1) * (3 * i + 1) - (3 * i - 1) * (3 * i - 1));
    return area;
}

std::vector<Case> cases() {
    const ProfileSet square = box(0, 0, 10, 10, "square");
    const ProfileSet frame =
        difference(box(0, 0, 30, 30, "frame"), box(10, 10, 10, 10)).with_name("frame");
    return {
        {"apart", {square, box(20, 0, 10, 10)}, 2, 0, 8, 200, {0, 0}, 2, 0},
        {"corner on corner", {square, box(10, 10, 10, 10)}, 2, 0, 8, 200, {0, 0}, 2, 0},
        {"corner on edge",
         {square, turned(box(0, 0, 4, 4), pi / 4, {5, 10})},
         2,
         0,
         8,
         116,
         {0, 0},
         2,
         0},
        {"discs in a point", {disc({0, 0}, 5), disc({10, 0}, 5)}, 2, 0, 2, 50 * pi, {0, 0}, 2, 0},
        {"disc on an edge", {square, disc({15, 5}, 5)}, 2, 0, 5, 100 + 25 * pi, {0, 0}, 2, 0},
        {"disc in a disc, touching",
         {disc({0, 0}, 5), disc({2, 0}, 3, "b")},
         1,
         0,
         1,
         25 * pi,
         {0},
         1,
         1},
        {"four squares about a hole, corners on corners",
         {box(0, 10, 10, 10), box(10, 0, 10, 10), box(20, 10, 10, 10), box(10, 20, 10, 10)},
         4,
         0,
         16,
         400,
         {0, 0, 0, 0},
         4,
         0},
        {"whole edge", {square, box(10, 0, 10, 10)}, 1, 0, 4, 200, {0}, 2, 0},
        {"part of an edge", {square, box(10, 3, 10, 4)}, 1, 0, 8, 140, {0}, 2, 0},
        {"edge beyond both ends", {square, box(10, -5, 10, 20)}, 1, 0, 8, 300, {0}, 2, 0},
        {"disc in the hole that fits it",
         {ring({0, 0}, 10, 5, "a"), disc({0, 0}, 5, "b")},
         1,
         0,
         1,
         100 * pi,
         {0},
         2,
         0},
        {"square in the hole that fits it",
         {frame, box(10, 10, 10, 10, "b")},
         1,
         0,
         4,
         900,
         {0},
         2,
         0},
        {"overlapping squares", {square, box(5, 5, 10, 10)}, 1, 0, 8, 175, {0}, 2, 0},
        {"overlapping discs",
         {disc({0, 0}, 5), disc({6, 0}, 5)},
         1,
         0,
         2,
         50 * pi - lens(5, 6),
         {0},
         2,
         0},
        {"overlapping, an edge in common", {square, box(5, 0, 10, 10)}, 1, 0, 4, 150, {0}, 2, 0},
        {"within", {square, box(2, 2, 3, 3, "b")}, 1, 0, 4, 100, {0}, 1, 1},
        {"within, an edge in common", {square, box(2, 0, 3, 3, "b")}, 1, 0, 4, 100, {0}, 1, 1},
        {"ring within", {square, ring({5, 5}, 4, 2, "b")}, 1, 0, 4, 100, {0}, 1, 2},
        {"nested five deep", nested_rings(), 5, 4, 9, nested_area(), {0, 1, 2, 3, 4}, 5, 0},
        {"doubled", {square, square}, 1, 0, 4, 100, {0}, 1, 1},
        {"doubled disc", {disc({0, 0}, 5), disc({0, 0}, 5)}, 1, 0, 1, 25 * pi, {0}, 1, 1},
        {"three times", {square, square, square}, 1, 0, 4, 100, {0}, 1, 2},
    };
}

std::size_t hole_count(const ProfileSet& set) {
    std::size_t count = 0;
    for (const Profile& profile : set.profiles()) count += profile.holes().size();
    return count;
}

}  // namespace

TEST_CASE("bodies that touch, overlap, nest or coincide, united and kept apart, at any angle") {
    REQUIRE(cases().size() == 22);
    for (const Case& given : cases()) {
        for (int turn = 0; turn < 40; ++turn) {
            const double angle = 0.157 * turn;
            CAPTURE(std::string(given.what));
            CAPTURE(angle);
            std::vector<ProfileSet> bodies;
            for (const ProfileSet& body : given.bodies) bodies.push_back(turned(body, angle));
            const ProfileSet whole = united(bodies);
            CHECK(whole.profiles().size() == given.profiles);
            CHECK(hole_count(whole) == given.holes);
            CHECK(curve_count(whole) == given.curves);
            CHECK(whole.area() == doctest::Approx(given.area).epsilon(1e-9));
            CHECK(depths(whole) == given.depths);

            const ProfileSet kept = kept_apart(bodies);
            CHECK(kept.profiles().size() == given.kept);
            CHECK(kept.marks().size() == given.marks);
        }
    }
}

TEST_CASE("kept apart, islands know the body around them at any depth") {
    const ProfileSet kept = kept_apart(nested_rings());
    CHECK(depths(kept) == std::vector<int>{0, 1, 2, 3, 4});
    for (const Profile& profile : kept.profiles()) {
        if (!profile.is_island()) continue;
        const Profile& around = kept.profiles()[static_cast<std::size_t>(profile.parent())];
        // Radii are 1, 4, 7, 10 and 13.
        CHECK(std::sqrt(around.outer().area() / pi) - std::sqrt(profile.outer().area() / pi) ==
              doctest::Approx(3.0));
    }
}

TEST_CASE("a disc that fits a hole is its island") {
    const ProfileSet kept =
        kept_apart(std::vector<ProfileSet>{disc({0, 0}, 5, "plug"), ring({0, 0}, 10, 5, "plate")});
    REQUIRE(kept.islands().size() == 1);
    CHECK(kept.profiles()[static_cast<std::size_t>(kept.islands()[0])].name() == "plug");
}
