/// Bridges: placed where the gap is shortest, as wide as asked, none lost, area accounted for.

#include <doctest/doctest.h>

#include "merge/sets.hpp"
#include "planform/error.hpp"

using namespace sets;

namespace {

/// Does a patch have two straight sides that are this far apart?
bool has_width(const Profile& patch, double width) {
    std::vector<Line> sides;
    for (const Curve& curve : patch.outer().curves())
        if (const Line* line = std::get_if<Line>(&curve)) sides.push_back(*line);
    for (const Line& a : sides)
        for (const Line& b : sides) {
            const Vector2 u = (a.end - a.start).normalized(), v = (b.end - b.start).normalized();
            if (std::abs(cross(u, v)) > 1e-9) continue;
            if (std::abs(std::abs(cross(u, b.start - a.start)) - width) <= 1e-9) return true;
        }
    return false;
}

/// All that a bridged set promises.
void check_held(const ProfileSet& loose, double width, int count, std::size_t pieces) {
    const ProfileSet held = bridges(loose, width, count);
    CHECK(held.islands().empty());
    CHECK(held.profiles().size() + pieces == loose.profiles().size());
    const ProfileSet added = difference(held, loose);
    CHECK(added.profiles().size() == pieces * static_cast<std::size_t>(count));
    for (const Profile& patch : added.profiles()) CHECK(has_width(patch, width));
    CHECK(held.area() == doctest::Approx(loose.area() + added.area()).epsilon(1e-9));
    CHECK(difference(loose, held).empty());
    CHECK(bridges(held, width, count).digest() == held.digest());
}

ErrorKind kind_of(const ProfileSet& set, double width, int count) {
    try {
        bridges(set, width, count);
    } catch (const Error& error) {
        return error.kind();
    }
    return ErrorKind::file_missing;
}

/// A plate with a round window of radius 20 about the origin.
ProfileSet window() { return difference(box(-50, -50, 100, 100, "plate"), disc({0, 0}, 20)); }

}  // namespace

TEST_CASE("one bridge stands where the gap is shortest and keeps the arcs") {
    const ProfileSet loose = united(window(), disc({5, 0}, 10, "loose"));
    const ProfileSet held = bridges(loose, 2.0, 1);
    REQUIRE(held.profiles().size() == 1);
    CHECK(held.profiles()[0].name() == "plate");
    const ProfileSet added = difference(held, loose);
    REQUIRE(added.profiles().size() == 1);
    // The gap is shortest on the positive x axis, from 15 to 20.
    // A minimum is flat: its place is known to the square root of rounding.
    CHECK(std::abs(added.bounds().center().y()) < 1e-5);
    CHECK(added.bounds().max().x() == doctest::Approx(20.0).epsilon(1e-9));
    CHECK(added.profiles()[0].outer().curves().size() == 4);
    int arcs = 0;
    for (const Curve& curve : held.profiles()[0].holes().at(0).curves())
        arcs += std::holds_alternative<Arc>(curve);
    CHECK(arcs == 2);
    CHECK(held.notes() == std::vector<std::string>{"1 bridge of 2 mm holds 1 island"});
}

TEST_CASE("several bridges hold an island from all sides") {
    for (const int count : {1, 2, 3, 4, 7}) {
        CAPTURE(count);
        check_held(united(window(), disc({0, 0}, 14)), 1.5, count, 1);
        check_held(united(window(), box(-9, -6, 18, 12)), 0.7, count, 1);
    }
    const ProfileSet loose = united(window(), disc({0, 0}, 14));
    const ProfileSet added = difference(bridges(loose, 1.5, 4), loose);
    Vector2 sum = Vector2::Zero();
    for (const Profile& patch : added.profiles()) sum += patch.bounds().center();
    CHECK(sum.norm() < 4.0);  // of 4 x 17 mm: on all sides
}

TEST_CASE("islands in islands, five deep, are all held") {
    std::vector<ProfileSet> rings{disc({0, 0}, 2)};
    for (int i = 1; i < 6; ++i) rings.push_back(ring({0.5 * i, 0.3}, 5 * i + 2, 5 * i - 1));
    check_held(united(rings), 0.8, 2, 5);
}

TEST_CASE("many islands in one hole are held, out of each other's way") {
    ProfileSet loose = window();
    for (int i = 0; i < 5; ++i)
        loose = united(loose, disc({12 * std::cos(1.2566 * i), 12 * std::sin(1.2566 * i)}, 4));
    loose = united(loose, disc({0, 0}, 6));
    check_held(loose, 0.6, 1, 6);
}

TEST_CASE("an island out of sight of the plate is held by a neighbour") {
    // A dot in the middle of a ring that is open on one side by less than a bridge.
    const ProfileSet open = difference(ring({0, 0}, 15, 8), box(0, -0.4, 20, 0.8));
    check_held(united(united(window(), open), disc({0, 0}, 5)), 1.0, 2, 2);
}

TEST_CASE("an island at a sharp corner of the hole") {
    const ProfileSet plate = difference(
        box(-50, -50, 100, 100), of(Contour(outlines::polygon({{-20, -10}, {20, -10}, {0, 25}}))));
    const ProfileSet island = of(Contour(outlines::polygon({{-8, -5}, {8, -5}, {0, 10}})));
    check_held(united(plate, island), 1.0, 3, 1);
    check_held(united(plate, island), 4.0, 1, 1);
}

TEST_CASE("where there is no room the island is named") {
    const ProfileSet loose = united(window(), disc({5, 0}, 2, "crumb"));
    CHECK(kind_of(loose, 5.0, 1) == ErrorKind::bridge_not_placed);
    // Where there is room for some, there are fewer, and a note says so.
    const ProfileSet held = bridges(loose, 2.0, 40);
    CHECK(held.islands().empty());
    CHECK(held.notes().size() > loose.notes().size());
    CHECK_THROWS_WITH_AS(bridges(loose, 5.0, 1), doctest::Contains("\"crumb\" about (5, 0)"),
                         GeometryError);
    for (const double width : {0.0, -1.0, double(NAN), double(INFINITY)})
        CHECK(kind_of(loose, width, 1) == ErrorKind::invalid_argument);
    CHECK(kind_of(loose, 1.0, 0) == ErrorKind::invalid_argument);
}

TEST_CASE("a set without islands comes back as it is, marks stay") {
    const ProfileSet plain({Profile(outlines::rectangle(0, 0, 9, 9))},
                           {{outlines::circle({4, 4}, 1), "mark"}});
    CHECK(bridges(plain, 1.0).digest() == plain.digest());
    const ProfileSet marked(united(window(), disc({0, 0}, 14)).profiles(), plain.marks());
    CHECK(bridges(marked, 1.0).marks().size() == 1);
}

TEST_CASE("drop-outs are found with their names and held to the sheet outside") {
    const ProfileSet letters = united(ring({0, 0}, 10, 5, "0"), ring({30, 0}, 10, 6, "O"));
    const ProfileSet pieces = drop_outs(letters);
    REQUIRE(pieces.profiles().size() == 2);
    CHECK(pieces.profiles()[0].name() == "0");
    CHECK(pieces.profiles()[1].name() == "O");
    CHECK(pieces.area() == doctest::Approx(61 * pi).epsilon(1e-12));

    const ProfileSet held = bridges(letters, 1.0, 2, Hold::drop_outs);
    CHECK(drop_outs(held).empty());
    REQUIRE(held.profiles().size() == 4);  // two halves each
    for (const Profile& half : held.profiles())
        CHECK(half.name() == (half.bounds().center().x() < 15 ? "0" : "O"));
    const ProfileSet taken = difference(letters, held);
    CHECK(taken.profiles().size() == 4);
    for (const Profile& patch : taken.profiles()) CHECK(has_width(patch, 1.0));
    CHECK(letters.area() == doctest::Approx(held.area() + taken.area()).epsilon(1e-9));
    CHECK(drop_outs(disc({0, 0}, 3)).empty());
    // What lies loose in a hole is no part of the drop-out.
    CHECK(drop_outs(united(ring({0, 0}, 10, 5), disc({0, 0}, 3))).area() ==
          doctest::Approx(16 * pi));
}
