#include "write/number.hpp"

#include <doctest/doctest.h>

#include <clocale>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <cstring>
#include <limits>
#include <random>

#include "planform/error.hpp"

namespace planform::write {
namespace {

std::string plain(double number) {
    std::string text;
    append_plain(text, number);
    return text;
}

std::string shortest(double number) {
    std::string text;
    append_shortest(text, number);
    return text;
}

TEST_CASE("plain numbers have a point, no exponent and no negative zero") {
    CHECK(plain(25.0) == "25.0");
    CHECK(plain(-0.125) == "-0.125");
    CHECK(plain(0.1) == "0.1");
    CHECK(plain(-0.0) == "0.0");
    CHECK(plain(1e-9) == "0.000000001");
    CHECK(plain(1e22) == "10000000000000000000000.0");
}

TEST_CASE("shortest numbers keep the sign of zero") {
    CHECK(shortest(25.0) == "25");
    CHECK(shortest(-0.0) == "-0.0");
    CHECK(shortest(0.0) == "0");
    CHECK(shortest(1e-17) == "1e-17");
    CHECK(shortest(1.0 / 3.0) == "0.3333333333333333");
}

TEST_CASE("every double reads back to the same bits") {
    std::mt19937_64 generator(20260101);
    int compared = 0;
    for (int i = 0; i < 20000; ++i) {
        const std::uint64_t bits = generator();
        double number = 0.0;
        static_assert(sizeof number == sizeof bits);
        std::memcpy(&number, &bits, sizeof number);
        if (!std::isfinite(number)) continue;
        CHECK(std::strtod(shortest(number).c_str(), nullptr) == number);
        CHECK(std::strtod(plain(number).c_str(), nullptr) == number);
        ++compared;
    }
    CHECK(compared > 19000);
    for (const double extreme :
         {std::numeric_limits<double>::max(), std::numeric_limits<double>::min(),
          std::numeric_limits<double>::denorm_min()}) {
        CHECK(std::strtod(plain(extreme).c_str(), nullptr) == extreme);
    }
}

TEST_CASE("the decimal point does not follow the locale") {
    const std::string before = std::setlocale(LC_ALL, nullptr);
    // Where no such locale is installed the call leaves the old one, and the check still holds.
    std::setlocale(LC_ALL, "de_DE.UTF-8");
    CHECK(plain(1.5) == "1.5");
    CHECK(shortest(1.5) == "1.5");
    std::setlocale(LC_ALL, before.c_str());
}

TEST_CASE("numbers that are not finite are refused") {
    std::string text;
    for (const double bad : {std::nan(""), HUGE_VAL, -HUGE_VAL}) {
        CHECK_THROWS_AS(append_plain(text, bad), GeometryError);
        CHECK_THROWS_AS(append_shortest(text, bad), GeometryError);
    }
    CHECK(text.empty());
}

}  // namespace
}  // namespace planform::write
