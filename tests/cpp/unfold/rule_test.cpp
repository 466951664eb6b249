/// Lengths of bends by rule.
///
/// DIN 6935 and its supplement 2 were not at hand: the formula, the rounded factors and the table
/// of corrections for right angles are typed from memory, as they stand in the tables of German
/// trade books. They agree with each other, which a slip of memory would hardly do.

#include <doctest/doctest.h>

#include <array>
#include <cmath>

#include "planform/unfold.hpp"
#include "unfold/sheets.hpp"

using namespace planform;

namespace {

using sheets::degree;

struct Correction {
    double thickness, radius, correction;
};

/// DIN 6935 supplement 2, corrections v for a bend of 90 degrees, mm, to a tenth; from memory.
const Correction corrections[] = {
    {1.0, 1.0, 1.9},  {1.0, 1.6, 2.1},  {1.5, 1.6, 2.9},  {0.8, 1.6, 1.8},  {1.0, 2.5, 2.4},
    {1.5, 2.5, 3.2},  {2.0, 2.5, 4.0},  {2.5, 2.5, 4.8},  {1.0, 4.0, 3.0},  {1.5, 4.0, 3.7},
    {2.0, 4.0, 4.5},  {2.5, 4.0, 5.2},  {3.0, 4.0, 6.0},  {1.0, 6.0, 3.8},  {1.5, 6.0, 4.5},
    {2.0, 6.0, 5.2},  {2.5, 6.0, 5.9},  {3.0, 6.0, 6.7},  {4.0, 6.0, 8.3},  {1.0, 10.0, 5.5},
    {1.5, 10.0, 6.1}, {2.0, 10.0, 6.7}, {3.0, 10.0, 8.1}, {4.0, 10.0, 9.6},
};

/// Rounded factors of the standard's table: k for ratios of radius to thickness up to the bound;
/// from memory.
struct Factor {
    double above, up_to, factor;
};
const Factor factors[] = {
    {0.65, 1.0, 0.6}, {1.0, 1.5, 0.7}, {1.5, 2.4, 0.8}, {2.4, 3.8, 0.9}, {3.8, 50.0, 1.0}};

}  // namespace

TEST_CASE("DIN 6935: corrections for right angles, from memory, to their last digit") {
    CHECK(std::size(corrections) >= 20);
    for (const Correction& row : corrections) {
        CAPTURE(row.thickness);
        CAPTURE(row.radius);
        const double length = bend_allowance({}, row.thickness, row.radius, 90.0 * degree);
        const double deduction = bend_deduction(length, row.thickness, row.radius, 90.0 * degree);
        CHECK(std::abs(deduction - row.correction) <= 0.0501);
    }
}

TEST_CASE("DIN 6935: the factor against the rounded ones of the table, from memory") {
    for (const Factor& row : factors) {
        for (const double share : {0.02, 0.3, 0.6, 0.98}) {
            const double ratio = row.above + share * (row.up_to - row.above);
            CAPTURE(ratio);
            CHECK(std::abs(din_6935_factor(ratio) - row.factor) <= 0.0601);
        }
    }
    CHECK(din_6935_factor(5.1) == 1.0);
    CHECK(din_6935_factor(1.0) == doctest::Approx(0.65).epsilon(1e-15));
    CHECK(din_6935_factor(0.0) ==
          doctest::Approx(din_6935_factor(din_6935_least_ratio)).epsilon(1e-15));
}

TEST_CASE("DIN 6935: lengths at other angles, worked by hand") {
    // v = pi (180 - b) / 180 (r + s k / 2) - 2 (r + s) tan((180 - b) / 2), opening angle b.
    struct Worked {
        double thickness, radius, opening, correction;
    };
    // s = r: k = 0.65; s = 2, r = 10: k = 0.65 + 0.5 lg 5 = 0.999485.
    const Worked worked[] = {
        {2.0, 2.0, 120.0, pi / 3.0 * 2.65 - 8.0 * std::tan(30.0 * degree)},
        {2.0, 2.0, 135.0, pi / 4.0 * 2.65 - 8.0 * std::tan(22.5 * degree)},
        {2.0, 2.0, 60.0, 2.0 * pi / 3.0 * 2.65 - 8.0},
        {2.0, 10.0, 150.0, pi / 6.0 * 10.99948500 - 24.0 * std::tan(15.0 * degree)},
        {2.0, 10.0, 45.0, 0.75 * pi * 10.99948500 - 24.0},
        {2.0, 20.0, 90.0, pi / 2.0 * 21.0 - 44.0},
        {1.0, 1.0, 90.0, -1.918695},
    };
    for (const Worked& row : worked) {
        const double angle = (180.0 - row.opening) * degree;
        const double length = bend_allowance({}, row.thickness, row.radius, angle);
        CHECK(-bend_deduction(length, row.thickness, row.radius, angle) ==
              doctest::Approx(row.correction).epsilon(1e-6));
    }
    // Above 165 degrees: no correction.
    for (const double opening : {166.0, 175.0}) {
        const double angle = (180.0 - opening) * degree;
        const double length = bend_allowance({}, 2.0, 3.0, angle);
        CHECK(std::abs(bend_deduction(length, 2.0, 3.0, angle)) < 1e-12);
    }
}

TEST_CASE("K factors: 0 keeps the inside, 1 the outside, a half the middle") {
    BendRule rule;
    rule.kind = BendRuleKind::k_factor;
    rule.k_factor = 0.0;
    CHECK(bend_allowance(rule, 2.0, 3.0, 1.0) == 3.0);
    rule.k_factor = 1.0;
    CHECK(bend_allowance(rule, 2.0, 3.0, 1.0) == 5.0);
    rule.k_factor = 0.5;
    CHECK(bend_allowance(rule, 2.0, 3.0, 1.0) == 4.0);
    for (const double wrong : {-0.1, 1.1, std::nan("")}) {
        rule.k_factor = wrong;
        CHECK_THROWS_AS(bend_allowance(rule, 2.0, 3.0, 1.0), GeometryError);
    }
    rule.k_factor = 0.0;
    CHECK_THROWS_AS(bend_allowance(rule, 2.0, 0.0, 1.0), GeometryError);
    rule.k_factor = 0.4;
    CHECK_THROWS_AS(bend_allowance(rule, -2.0, 1.0, 1.0), GeometryError);
    CHECK_THROWS_AS(bend_allowance(rule, 2.0, -1.0, 1.0), GeometryError);
    CHECK_THROWS_AS(bend_allowance(rule, 2.0, 1.0, 0.0), GeometryError);
}

TEST_CASE("bend tables: rows, between rows, and what they don't tell") {
    BendRule rule;
    rule.kind = BendRuleKind::table;
    rule.table = {{2.0, 2.0, 90.0 * degree, 4.2, {}},
                  {2.0, 4.0, 90.0 * degree, 7.2, {}},
                  {2.0, 4.0, 120.0 * degree, 9.8, {}},
                  {1.0, 1.0, 90.0 * degree, {}, 1.9}};
    CHECK(bend_allowance(rule, 2.0, 2.0, 90.0 * degree) == doctest::Approx(4.2).epsilon(1e-12));
    CHECK(bend_allowance(rule, 2.0, 3.0, 90.0 * degree) == doctest::Approx(5.7).epsilon(1e-12));
    CHECK(bend_allowance(rule, 2.0, 4.0, 105.0 * degree) == doctest::Approx(8.5).epsilon(1e-12));
    // Towards no angle the length goes to nothing.
    CHECK(bend_allowance(rule, 2.0, 2.0, 45.0 * degree) == doctest::Approx(2.1).epsilon(1e-12));
    // A deduction of 1.9 from twice the outer length of 2.
    CHECK(bend_allowance(rule, 1.0, 1.0, 90.0 * degree) == doctest::Approx(2.1).epsilon(1e-12));
    for (const auto& [thickness, radius, angle] :
         {std::array{3.0, 2.0, 90.0}, std::array{2.0, 1.0, 90.0}, std::array{2.0, 5.0, 90.0},
          std::array{2.0, 2.0, 100.0}, std::array{2.0, 4.0, 130.0}})
        CHECK_THROWS_AS(bend_allowance(rule, thickness, radius, angle * degree), GeometryError);
    rule.table.push_back({2.0, 2.0, 1.0, {}, {}});
    CHECK_THROWS_AS(bend_allowance(rule, 2.0, 2.0, 1.0), GeometryError);
}
