/// Numbers of 128 bits as they are written out, against the compiler's own.

#include "grid/wide.hpp"

#include <doctest/doctest.h>

#include <cstdint>
#include <limits>
#include <random>

using planform::grid::WrittenWide;

TEST_CASE("products, quotients and rests by hand") {
    constexpr std::int64_t most = std::numeric_limits<std::int64_t>::max();
    const WrittenWide square = WrittenWide(most) * most;
    CHECK(square > most);
    CHECK(square / most == WrittenWide(most));
    CHECK(square % most == WrittenWide(0));
    CHECK((square + 5) % most == WrittenWide(5));
    CHECK(-square < WrittenWide(-most));
    CHECK((-square - 5) / most == WrittenWide(-most));
    CHECK((-square - 5) % most == WrittenWide(-5));
    CHECK(WrittenWide(-7) / 2 == WrittenWide(-3));
    CHECK(WrittenWide(7) / -2 == WrittenWide(-3));
    CHECK(WrittenWide(7) % -2 == WrittenWide(1));
    CHECK(static_cast<std::int64_t>(square / most - 1) == most - 1);
}

#ifdef __SIZEOF_INT128__
TEST_CASE("the same as the compiler's own") {
    using planform::grid::Wide;
    std::mt19937_64 random(128);
    const auto number = [&] {  // of any size, and of either sign
        return static_cast<std::int64_t>(random()) >> (random() % 64);
    };
    const auto same = [](const WrittenWide& a, Wide b) {
        // By its halves, each of which fits.
        const Wide unit = static_cast<Wide>(1) << 62;
        const WrittenWide written = WrittenWide(std::int64_t{1} << 62);
        return static_cast<std::int64_t>(a / written) == static_cast<std::int64_t>(b / unit) &&
               static_cast<std::int64_t>(a % written) == static_cast<std::int64_t>(b % unit);
    };
    int divided = 0;
    for (int i = 0; i < 20'000; ++i) {
        const std::int64_t a = number(), b = number(), c = number(), d = number();
        const WrittenWide left = WrittenWide(a) * b, right = WrittenWide(c) * d;
        const Wide own_left = static_cast<Wide>(a) * b, own_right = static_cast<Wide>(c) * d;
        REQUIRE(same(left, own_left));
        REQUIRE((left < right) == (own_left < own_right));
        REQUIRE((left == right) == (own_left == own_right));
        REQUIRE(same(left + c, own_left + c));
        REQUIRE(same(left - c, own_left - c));
        REQUIRE(same(-left, -own_left));
        if (own_right == 0) continue;
        REQUIRE(same(left / right, own_left / own_right));
        REQUIRE(same(left % right, own_left % own_right));
        ++divided;
    }
    CHECK(divided > 15'000);
}
#endif
