/// Splines that run side by side nearer to each other than a share of the tolerance: they are made
/// one, and the union stays what it is.

#include "arrange/carriers/strands.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstddef>
#include <random>
#include <vector>

#include "arrange/arrange.hpp"
#include "arrange/shapes.hpp"

using namespace planform;
using namespace planform::arrange;

namespace {

constexpr double strand_tolerance = 0.01;
constexpr double near_of_tolerance = 0.05 * strand_tolerance;

/// A stretch of a ring's edge, from one angle to another: cubic Bezier pieces of some 10 degrees,
/// whose joints stray by up to `stray` from the radius.
Curve strand(double radius, double from, double to, double stray, std::mt19937& random) {
    std::uniform_real_distribution<double> share(-1.0, 1.0);
    const int pieces = std::max(1, static_cast<int>(std::ceil(std::abs(to - from) / 0.18)));
    const double step = (to - from) / pieces, handle = 4.0 / 3.0 * std::tan(0.25 * step);
    Spline spline;
    spline.degree = 3;
    const auto at = [&](int k) -> Point2 {
        const double angle = from + step * k;
        return (radius + stray * share(random)) * Point2(std::cos(angle), std::sin(angle));
    };
    Point2 a = at(0);
    spline.poles.push_back(a);
    for (int k = 0; k < pieces; ++k) {
        const Point2 b = at(k + 1);
        spline.poles.emplace_back(a + handle * Vector2(-a.y(), a.x()));
        spline.poles.emplace_back(b - handle * Vector2(-b.y(), b.x()));
        spline.poles.push_back(b);
        for (int i = 0; i < (k == 0 ? 4 : 3); ++i) spline.knots.push_back(k);
        a = b;
    }
    for (int i = 0; i < 4; ++i) spline.knots.push_back(pieces);
    return spline;
}

/// Sectors of a ring, each of a part of a turn, one after the other all round and over again: their
/// edges lie on each other but for what they stray.
test::Shapes sectors(double inner, double outer, int count, double turns, double stray,
                     std::mt19937& random) {
    test::Shapes shapes;
    for (int k = 0; k < count; ++k) {
        const double from = 2.0 * pi * turns * k / count;
        const double to = from + 2.0 * pi * 0.55;
        const Curve out = strand(outer, from, to, stray, random);
        const Curve in = reversed(strand(inner, from, to, stray, random));
        shapes.chain({out, Line{end_point(out), start_point(in)}, in,
                      Line{end_point(in), start_point(out)}});
    }
    return shapes;
}

Options options(bool unites_strands) {
    Options result;
    result.tolerance = strand_tolerance;
    result.inside = test::either;
    result.unites_strands = unites_strands;
    return result;
}

/// All splines of an input as one set.
CarrierSet set_of(const Input& input) { return collect_carriers(input, 2e-7, 2e-7); }

std::vector<char> all_splines(const CarrierSet& set) {
    std::vector<char> result;
    for (const Carrier& c : set.carriers) result.push_back(c.kind == Carrier::Kind::spline);
    return result;
}

/// What comes in goes out at every node.
bool is_balanced(const CarrierSet& set) {
    std::vector<int> balance(set.nodes.size(), 0);
    for (const Piece& p : set.pieces) {
        balance[static_cast<std::size_t>(p.start_node)] += p.weight[0];
        balance[static_cast<std::size_t>(p.end_node)] -= p.weight[0];
    }
    for (const int b : balance)
        if (b != 0) return false;
    return true;
}

double length_of_splines(const CarrierSet& set) {
    double sum = 0.0;
    for (const Piece& p : set.pieces) {
        const Carrier& c = set.carriers[static_cast<std::size_t>(p.carrier)];
        if (c.kind == Carrier::Kind::spline) sum += length(c.piece(p.from, p.to));
    }
    return sum;
}

}  // namespace

TEST_CASE("sectors that lie on each other are a ring, and its edges are few") {
    std::mt19937 random(7);
    const double ring = pi * (121.0 - 81.0), round = 2.0 * pi * (11.0 + 9.0);
    for (const double stray : {1e-6, 3e-5, 1e-4, 2e-4})
        for (const int count : {8, 21}) {
            CAPTURE(stray);
            CAPTURE(count);
            const Input input = sectors(9.0, 11.0, count, 4.0, stray, random).input();
            const std::vector<Loop> loops = arrange::arrange(input, options(true));
            REQUIRE(loops.size() == 2);
            CHECK(test::fault(loops, 1e-9, 1e-3).empty());
            CHECK(std::abs(test::area(loops) - ring) <= (stray + near_of_tolerance) * round);
            CHECK(test::count_curves(loops) <= 30);
        }
}

TEST_CASE("what takes the place of strands is as long as one of them, and closed") {
    std::mt19937 random(3);
    // The last of them leave each other and come back again and again.
    for (const double stray : {0.0, 1e-5, 2e-4, 4e-4, 8e-4, 2e-3}) {
        CAPTURE(stray);
        const Input input = sectors(9.0, 11.0, 16, 5.0, stray, random).input();
        CarrierSet set = set_of(input);
        REQUIRE(length_of_splines(set) > 8.0 * 2.0 * pi * 20.0);
        REQUIRE(unite_strands(set, all_splines(set), near_of_tolerance));
        CHECK(is_balanced(set));
        if (2.0 * stray < near_of_tolerance)
            CHECK(length_of_splines(set) <= 1.01 * 2.0 * pi * 20.0);
        for (const Piece& p : set.pieces) {
            const Carrier& c = set.carriers[static_cast<std::size_t>(p.carrier)];
            CHECK(p.from < p.to);
            const auto on = [&](double t, int node) {
                return (c.position(t) - set.nodes[static_cast<std::size_t>(node)]).norm();
            };
            CHECK(on(p.from, p.start_node) < 1e-9);
            CHECK(on(p.to, p.end_node) < 1e-9);
        }
    }
}

TEST_CASE("curves that cross, and such as keep further apart, are let alone") {
    std::mt19937 random(5);
    // Rings 2e-3 mm apart, and discs that cross.
    test::Shapes rings;
    rings.chain({strand(10.0, 0.0, 2.0 * pi, 0.0, random)});
    rings.chain({reversed(strand(9.998, 0.0, 2.0 * pi, 0.0, random))});
    CarrierSet set = set_of(rings.input());
    const std::size_t pieces = set.pieces.size();
    const double length = length_of_splines(set);
    REQUIRE(unite_strands(set, all_splines(set), near_of_tolerance));
    CHECK(set.pieces.size() == pieces);
    CHECK(length_of_splines(set) == doctest::Approx(length).epsilon(1e-12));

    test::Shapes discs;
    for (const double x : {0.0, 0.02, 9.0}) {
        Curve moved = strand(10.0, 0.3, 0.3 + 2.0 * pi, 0.0, random);
        for (Point2& pole : std::get<Spline>(moved).poles) pole.x() += x;
        discs.chain({moved});
    }
    const double with = test::area(arrange::arrange(discs.input(), options(true)));
    const double without = test::area(arrange::arrange(discs.input(), options(false)));
    CHECK(std::abs(with - without) < 1e-9);
}

TEST_CASE("a strand that closes on itself isn't led round the other way") {
    std::mt19937 random(11);
    // One that leaves a gap, smaller than what nodes are joined over, and a closed one upon it.
    const double gap = 1.4e-3 / 11.0;
    const Curve open = strand(11.0, 0.5 * gap, 2.0 * pi - 0.5 * gap, 0.0, random);
    test::Shapes shapes;
    shapes.chain({open, Line{end_point(open), Point2(10.99, 0.0)},
                  Line{Point2(10.99, 0.0), start_point(open)}});
    for (const double start : {-0.004, 0.002, 2.0})
        shapes.chain({strand(11.00005, start, start + 2.0 * pi, 0.0, random)});
    const std::vector<Loop> loops = arrange::arrange(shapes.input(), options(true));
    REQUIRE(loops.size() == 1);
    CHECK(std::abs(test::area(loops) - pi * 121.0) <= near_of_tolerance * 2.0 * pi * 11.0);
    CarrierSet set = set_of(shapes.input());
    REQUIRE(unite_strands(set, all_splines(set), near_of_tolerance));
    CHECK(is_balanced(set));
    CHECK(length_of_splines(set) <= 1.001 * 2.0 * pi * 11.0);
}
