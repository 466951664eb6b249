#include <doctest/doctest.h>

#include "profile/outlines.hpp"

using namespace planform;
using doctest::Approx;

TEST_CASE("a profile orients its contours") {
    const Contour outer = outlines::rectangle(0, 0, 20, 10);
    const Contour hole = outlines::circle({5, 5}, 2.0);
    for (const Contour& given_outer : {outer, outer.reversed()})
        for (const Contour& given_hole : {hole, hole.reversed()}) {
            const Profile profile(given_outer, {given_hole}, "side wall", 3);
            CHECK(profile.outer().area() == Approx(200.0));
            CHECK(profile.holes()[0].area() == Approx(-4 * pi));
            CHECK(profile.area() == Approx(200 - 4 * pi).epsilon(1e-14));
            CHECK(profile.length() == Approx(60 + 4 * pi).epsilon(1e-14));
            CHECK(profile.name() == "side wall");
            CHECK(profile.is_island());
        }
    CHECK_FALSE(Profile(outer).is_island());
}

TEST_CASE("a set sums its profiles; marks count for the box alone") {
    const Profile plate(outlines::rectangle(0, 0, 20, 10), {outlines::circle({5, 5}, 2.0)});
    const Profile island(outlines::circle({5, 5}, 1.0), {}, "", 0);
    const Mark mark{outlines::rectangle(30, 30, 1, 1), "cut here"};
    const ProfileSet set({plate, island}, {mark}, Datum::xz(), 0.02, "roof", {"a note"});
    CHECK(set.area() == Approx(200 - 3 * pi).epsilon(1e-14));
    CHECK(set.length() == Approx(60 + 6 * pi).epsilon(1e-14));
    CHECK(set.bounds().min() == Point2(0, 0));
    CHECK(set.bounds().max() == Point2(31, 31));
    CHECK(set.tolerance() == 0.02);
    CHECK(set.notes().size() == 1);
    CHECK_FALSE(set.empty());
    const ProfileSet renamed = set.with_name("gable");
    CHECK(renamed.name() == "gable");
    CHECK(set.name() == "roof");
    CHECK(renamed.area() == set.area());
    CHECK(ProfileSet().empty());
    CHECK(ProfileSet().bounds().isEmpty());
    CHECK(ProfileSet().area() == 0.0);
}

TEST_CASE("transforming a set maps all of it and keeps what it is about") {
    const ProfileSet set(
        {Profile(outlines::rectangle(0, 0, 20, 10), {outlines::circle({5, 5}, 2.0)}, "wall", -1)},
        {{outlines::rectangle(1, 1, 2, 2), "line"}}, Datum::yz(), 0.05, "n");
    Transform2 map = Transform2::Identity();
    map.linear() << 0, 2, 2, 0;  // mirror at the diagonal, doubled
    map.translation() = Vector2(7, -3);
    const ProfileSet image = set.transformed(map);
    CHECK(image.area() == Approx(4 * set.area()).epsilon(1e-13));
    CHECK(image.length() == Approx(2 * set.length()).epsilon(1e-13));
    CHECK(image.profiles()[0].outer().area() > 0.0);
    CHECK(image.profiles()[0].holes()[0].is_circle());
    CHECK(image.profiles()[0].name() == "wall");
    CHECK(image.marks()[0].name() == "line");
    CHECK(image.datum().normal() == Datum::yz().normal());
    CHECK((image.bounds().min() - Point2(7, -3)).norm() < 1e-13);
    CHECK((image.bounds().max() - Point2(27, 37)).norm() < 1e-13);
}
