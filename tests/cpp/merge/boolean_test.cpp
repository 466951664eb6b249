/// Booleans against closed forms; datums, names, marks, order.

#include <doctest/doctest.h>

#include <algorithm>

#include "merge/random_sets.hpp"
#include "merge/sets.hpp"
#include "planform/error.hpp"

using namespace sets;

namespace {

ErrorKind kind_of(const ProfileSet& a, const ProfileSet& b) {
    try {
        united(a, b);
    } catch (const Error& error) {
        return error.kind();
    }
    return ErrorKind::file_missing;
}

ProfileSet marked(const std::vector<Contour>& contours) {
    std::vector<Mark> marks;
    for (const Contour& contour : contours) marks.push_back({contour, "mark"});
    return ProfileSet({Profile(outlines::rectangle(0, 0, 50, 50))}, std::move(marks));
}

}  // namespace

TEST_CASE("two discs: areas and curves are those of circular segments") {
    // Source: the area of a circular segment, r^2 (a - sin a cos a) for half the opening angle a.
    const double radius = 10.0, distance = 12.0;
    const double half = std::acos(0.5 * distance / radius);
    const double lens = 2 * radius * radius * (half - std::sin(half) * std::cos(half));
    const double whole = pi * radius * radius;
    const ProfileSet a = disc({0, 0}, radius), b = disc({distance, 0}, radius);
    CHECK(united(a, b).area() == doctest::Approx(2 * whole - lens).epsilon(1e-12));
    CHECK(intersection(a, b).area() == doctest::Approx(lens).epsilon(1e-12));
    CHECK(difference(a, b).area() == doctest::Approx(whole - lens).epsilon(1e-12));
    CHECK(symmetric_difference(a, b).area() == doctest::Approx(2 * (whole - lens)).epsilon(1e-12));
    CHECK(symmetric_difference(a, b).profiles().size() == 2);
    for (const ProfileSet& set : {united(a, b), intersection(a, b), difference(a, b)}) {
        REQUIRE(set.profiles().size() == 1);
        REQUIRE(set.profiles()[0].outer().curves().size() == 2);
        for (const Curve& curve : set.profiles()[0].outer().curves())
            CHECK(std::get<Arc>(curve).radius == radius);
    }
}

TEST_CASE("profiles of one set that overlap count once") {
    const ProfileSet overlapping(
        {Profile(outlines::rectangle(0, 0, 10, 10)), Profile(outlines::rectangle(5, 0, 10, 10))});
    CHECK(united(overlapping, ProfileSet()).area() == doctest::Approx(150.0));
    CHECK(intersection(overlapping, box(0, 0, 20, 5)).area() == doctest::Approx(75.0));
    CHECK(difference(box(-5, -5, 30, 20), overlapping).area() == doctest::Approx(450.0));
}

TEST_CASE("the second set is moved to where it lies in the model") {
    const Datum moved(Point3(3, 4, 7), Vector3(0, 0, 2), Vector3(0, 1, 0));
    const ProfileSet here = box(0, 0, 10, 10);
    // Its x runs along the model's Y, its y against X: [0, 10] x [0, 10] lies at [-7, 3] x [4, 14].
    const ProfileSet there = here.with_datum(moved);
    CHECK(intersection(here, there).area() == doctest::Approx(18.0).epsilon(1e-12));
    CHECK(intersection(there, here).area() == doctest::Approx(18.0).epsilon(1e-12));
    CHECK(intersection(there, here).datum().origin() == moved.origin());
    CHECK(intersection(here, there.with_datum(Datum::xy())).area() == doctest::Approx(100.0));
    CHECK(united(here, here.with_datum(Datum::xy().moved(5.0))).area() == doctest::Approx(100.0));
}

TEST_CASE("planes that are not parallel or face each other are refused") {
    const ProfileSet here = box(0, 0, 10, 10);
    CHECK(kind_of(here, here.with_datum(Datum::xz())) == ErrorKind::invalid_argument);
    const Datum below(Point3::Zero(), -Vector3::UnitZ());
    CHECK(kind_of(here, here.with_datum(below)) == ErrorKind::invalid_argument);
    const Datum tilted(Point3::Zero(), Vector3(1e-6, 0, 1));
    CHECK(kind_of(here, here.with_datum(tilted)) == ErrorKind::invalid_argument);
}

TEST_CASE("a profile has the name of those its outer contour comes from") {
    const ProfileSet plate = box(0, 0, 100, 40, "plate");
    const ProfileSet eight = ring({20, 20}, 10, 5, "8"), nought = ring({60, 20}, 10, 5, "0");
    const ProfileSet cut = difference(plate, united(eight, nought));
    REQUIRE(cut.profiles().size() == 3);
    CHECK(cut.profiles()[0].name() == "plate");
    REQUIRE(cut.islands() == std::vector<int>{1, 2});
    CHECK(cut.profiles()[1].name() == "8");
    CHECK(cut.profiles()[2].name() == "0");
    CHECK(united(plate, box(90, 0, 50, 40, "plate")).profiles()[0].name() == "plate");
    // Where names of the same operand differ, there is none; the first operand's come first.
    const std::vector<ProfileSet> two{plate, box(90, 0, 50, 40, "other")};
    CHECK(united(two).profiles()[0].name().empty());
    CHECK(united(plate, two[1]).profiles()[0].name() == "plate");
}

TEST_CASE("curves keep their origin") {
    const Contour square(outlines::polygon({{0, 0}, {10, 0}, {10, 10}, {0, 10}}),
                         std::vector<Provenance>(4, {Provenance::Kind::edge, 2, 7}));
    const ProfileSet cut =
        difference(ProfileSet({Profile(square)}), disc({10, 10}, 3)).with_name("cut");
    const Contour& outer = cut.profiles().at(0).outer();
    REQUIRE(outer.provenance().size() == 5);
    for (std::size_t i = 0; i < 5; ++i) {
        const bool straight = std::holds_alternative<Line>(outer.curves()[i]);
        CHECK(outer.provenance()[i].entity == (straight ? 7 : 0));
        CHECK(outer.provenance()[i].solid == (straight ? 2 : -1));
    }
}

TEST_CASE("marks are taken as a set of contours") {
    const Contour a = outlines::circle({10, 10}, 2), b = outlines::circle({20, 10}, 2);
    const Contour a_again = outlines::circle({10, 10}, 2, 1.0);
    const ProfileSet one = marked({a, b}), other = marked({a_again});
    CHECK(united(one, other).marks().size() == 2);
    CHECK(intersection(one, other).marks().size() == 1);
    CHECK(difference(one, other).marks().size() == 1);
    CHECK(difference(one, other).marks()[0].contour().bounds().center().x() == 20.0);
    CHECK(symmetric_difference(one, other).marks().size() == 1);
    CHECK(symmetric_difference(one, one).empty());
}

TEST_CASE("no sets, one set, empty sets") {
    CHECK(united(std::vector<ProfileSet>{}).empty());
    CHECK(kept_apart(std::vector<ProfileSet>{}).empty());
    const ProfileSet one = ring({1, 2}, 9, 4, "ring");
    CHECK(united(std::vector<ProfileSet>{one}).digest() == one.digest());
    CHECK(kept_apart(std::vector<ProfileSet>{one}).digest() == one.digest());
    CHECK(symmetric_difference(ProfileSet(), one).digest() == one.digest());
    CHECK(united(ProfileSet(), ProfileSet()).empty());
}

TEST_CASE("the order of the sets does not matter, 200 shuffles") {
    std::vector<ProfileSet> all;
    for (std::uint32_t seed = 1; all.size() < 24; ++seed) {
        const auto [a, b] = random_pair(seed);
        const Vector2 shift(30.0 * (seed % 4), 30.0 * (seed / 4));
        all.push_back(turned(a, 0.1 * seed, shift).with_name(std::to_string(seed) + " a"));
        all.push_back(turned(b, 0.1 * seed, shift).with_name(std::to_string(seed) + " b"));
    }
    // Curves that are all but the same: which of them stands for both must not depend on the order.
    all.push_back(turned(all[0], 0.0, {3e-8, -2e-8}).with_name("near"));
    all.push_back(turned(all[3], 0.0, {-5e-8, 1e-8}).with_name("near too"));
    const std::string whole = united(all).digest(), apart = kept_apart(all).digest();
    std::mt19937 random(5);
    for (int i = 0; i < 200; ++i) {
        for (std::size_t k = all.size() - 1; k > 0; --k) std::swap(all[k], all[random() % (k + 1)]);
        REQUIRE(united(all).digest() == whole);
        if (i % 20 == 0) REQUIRE(kept_apart(all).digest() == apart);
    }
}
