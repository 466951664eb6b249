/// Laws of sets on seeded random pairs with many coincidences. Sources: the algebra of sets; the
/// principle of inclusion and exclusion.

#include <doctest/doctest.h>

#include "merge/random_sets.hpp"
#include "merge/sets.hpp"
#include "random_count.hpp"

using namespace sets;

namespace {

int pair_count() { return random_count(150, 5000); }

}  // namespace

TEST_CASE("booleans of random pairs keep the laws of sets") {
    int overlapping = 0, curved = 0;
    for (int seed = 1; seed <= pair_count(); ++seed) {
        CAPTURE(seed);
        const auto [a, b] = random_pair(static_cast<std::uint32_t>(seed));
        const ProfileSet either = united(a, b), both = intersection(a, b);
        const ProfileSet only_a = difference(a, b), only_b = difference(b, a);
        const ProfileSet one = symmetric_difference(a, b);
        const double size = a.area() + b.area();
        const double rounding = 1e-9 * size;
        overlapping += both.area() > rounding;
        curved += curve_count(either) > 0;

        CHECK(std::abs(size - either.area() - both.area()) <= rounding);
        CHECK(std::abs(a.area() - only_a.area() - both.area()) <= rounding);
        CHECK(std::abs(b.area() - only_b.area() - both.area()) <= rounding);
        CHECK(std::abs(one.area() - only_a.area() - only_b.area()) <= rounding);
        CHECK(std::abs(united(only_a, both).area() - a.area()) <= rounding);
        CHECK(std::abs(united(one, both).area() - either.area()) <= rounding);
        CHECK(intersection(only_a, b).area() <= rounding);
    }
    CHECK(overlapping * 2 > pair_count());
    CHECK(curved == pair_count());
}

TEST_CASE("booleans commute to the last digit, and a set with itself is itself or nothing") {
    for (int seed = 1; seed <= pair_count() / 5; ++seed) {
        CAPTURE(seed);
        const auto [a, b] = random_pair(static_cast<std::uint32_t>(seed));
        CHECK(united(a, b).digest() == united(b, a).digest());
        CHECK(intersection(a, b).digest() == intersection(b, a).digest());
        CHECK(symmetric_difference(a, b).digest() == symmetric_difference(b, a).digest());
        CHECK(united(a, a).digest() == a.digest());
        CHECK(intersection(a, a).digest() == a.digest());
        CHECK(difference(a, a).empty());
        CHECK(symmetric_difference(a, a).empty());
        CHECK(united(a, ProfileSet()).digest() == a.digest());
        CHECK(difference(a, ProfileSet()).digest() == a.digest());
        CHECK(intersection(a, ProfileSet()).empty());
    }
}
