/// The law of winding, on outlines that are wrong on purpose: by construction each lacks or adds a
/// known piece of what its curves wind around.

#include "proof/winding_law.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <vector>

#include "merge/operands.hpp"

using namespace planform;

namespace {

constexpr double tolerance = 0.01;

Contour polygon(const std::vector<Point2>& corners) {
    std::vector<Curve> lines;
    for (std::size_t i = 0; i < corners.size(); ++i)
        lines.push_back(Line{corners[i], corners[(i + 1) % corners.size()]});
    return Contour(lines);
}

Contour disc(const Point2& center, double radius, double sweep = 2.0 * pi) {
    return Contour({Arc{center, radius, 0.1, sweep}});
}

/// A tray's rim, 100 by 40 mm, with a notch so wide and deep in its lower side.
Contour notched(double width, double depth) {
    return polygon({{0, 0},
                    {60, 0},
                    {60, depth},
                    {60 + width, depth},
                    {60 + width, 0},
                    {100, 0},
                    {100, 40},
                    {0, 40}});
}

const Contour rim = polygon({{0, 0}, {100, 0}, {100, 40}, {0, 40}});

/// The contour's curves, `weight` times, added to an input.
void add(arrange::Input& input, const Contour& contour, int weight = 1, int operand = 0) {
    const auto first = static_cast<int>(input.nodes.size());
    const auto count = static_cast<int>(contour.curves().size());
    for (int i = 0; i < count; ++i) {
        const Curve& curve = contour.curves()[static_cast<std::size_t>(i)];
        input.nodes.push_back(start_point(curve));
        input.curves.push_back({curve, first + i, first + (i + 1) % count, weight, operand, 0});
    }
}

arrange::Input input_of(const std::vector<Contour>& contours) {
    arrange::Input input;
    for (const Contour& contour : contours) add(input, contour);
    return input;
}

proof::Asked ask(const arrange::Input& input, const std::vector<Profile>& profiles,
                 Verify verify = Verify::quick) {
    return proof::check_winding(input, merge::in_first, profiles, tolerance, verify);
}

/// Cubic pieces through the circle of 20 mm about the origin; the middle of one piece is drawn in
/// by so much.
Spline dented_circle(int pieces, double dent) {
    Spline spline;
    spline.degree = 3;
    const double step = 2.0 * pi / pieces, handle = 4.0 / 3.0 * std::tan(0.25 * step) * 20.0;
    const auto at = [](double angle) { return Point2(std::cos(angle), std::sin(angle)); };
    const auto along = [](double angle) { return Vector2(-std::sin(angle), std::cos(angle)); };
    spline.knots.assign(4, 0.0);
    spline.poles.push_back(20.0 * at(0.0));
    for (int i = 0; i < pieces; ++i) {
        const double from = i * step, to = (i + 1) * step;
        const double radius = i == pieces / 3 ? 20.0 - dent / 0.75 : 20.0;
        spline.poles.push_back(radius * at(from) + handle * along(from));
        spline.poles.push_back(radius * at(to) - handle * along(to));
        spline.poles.push_back(20.0 * at(to));
        spline.knots.insert(spline.knots.end(), i + 1 < pieces ? 3 : 4, i + 1.0);
    }
    spline.poles.back() = spline.poles.front();
    return spline;
}

}  // namespace

TEST_CASE("a right outline keeps the law: notches, holes, islands, curves that wind twice") {
    const Contour hole = disc({30, 20}, 8.0, -2.0 * pi), island = disc({30, 20}, 3.0);
    arrange::Input input = input_of({notched(0.2, 5.0), hole, island});
    add(input, disc({80, 20}, 5.0), 2);  // inside: hidden
    const std::vector<Profile> right = {Profile(notched(0.2, 5.0), {hole}), Profile(island)};
    for (const Verify verify : {Verify::quick, Verify::full}) {
        const proof::Asked asked = ask(input, right, verify);
        CHECK(asked.checks > 30);
        CHECK(asked.largest_deviation == 0.0);
    }
    CHECK(ask(input, right, Verify::full).checks > 3 * ask(input, right).checks);
}

TEST_CASE("a notch that was filled is seen; in full, one that was cut for nothing, too") {
    for (const double width : {0.035, 0.05, 0.5, 5.0}) {
        CAPTURE(width);
        CHECK_THROWS_WITH_AS(ask(input_of({notched(width, 6.0)}), {Profile(rim)}),
                             doctest::Contains("no material, and the outline covers it"),
                             proof::WindingBreach);
        CHECK_THROWS_WITH_AS(ask(input_of({rim}), {Profile(notched(width, 6.0))}, Verify::full),
                             doctest::Contains("material, which the outline leaves out"),
                             proof::WindingBreach);
    }
    // Narrower or less deep than the tolerance nobody asks for it.
    CHECK(ask(input_of({notched(0.009, 6.0)}), {Profile(rim)}).checks > 0);
    CHECK(ask(input_of({notched(5.0, 0.009)}), {Profile(rim)}).largest_deviation <= tolerance);
}

TEST_CASE("a hole that was filled, an island or a part that was lost, nothing at all") {
    const Contour hole = disc({30, 20}, 0.5, -2.0 * pi), island = disc({30, 20}, 0.2);
    const Contour apart = disc({200, 0}, 0.1);
    const arrange::Input input = input_of({rim, hole, island, apart});
    const Profile drilled(rim, {hole});
    CHECK(ask(input, {drilled, Profile(island), Profile(apart)}).checks > 0);
    CHECK_THROWS_AS(ask(input, {Profile(rim), Profile(apart)}), proof::WindingBreach);
    CHECK_THROWS_AS(ask(input, {drilled, Profile(apart)}), proof::WindingBreach);
    CHECK_THROWS_AS(ask(input, {drilled, Profile(island)}), proof::WindingBreach);
    CHECK_THROWS_AS(ask(input, {}), proof::WindingBreach);
}

TEST_CASE("a dent in one span of a spline: of few spans in quick, of many in full") {
    for (const int pieces : {6, 12, 60}) {
        CAPTURE(pieces);
        const std::vector<Profile> round = {Profile(disc({0, 0}, 20.0))};
        const arrange::Input dented = input_of({Contour({dented_circle(pieces, 0.2)})});
        const arrange::Input whole = input_of({Contour({dented_circle(pieces, 0.0)})});
        CHECK_THROWS_AS(ask(dented, round, pieces > 12 ? Verify::full : Verify::quick),
                        proof::WindingBreach);
        CHECK(ask(whole, round, Verify::full).checks >= 12 * pieces);
    }
}

TEST_CASE("of two operands what is inside is asked for both") {
    const Contour tool = disc({100, 20}, 10.0);
    arrange::Input input = input_of({rim});
    add(input, tool, 1, 1);
    const std::vector<Profile> whole = {Profile(rim)};
    CHECK_THROWS_AS(
        proof::check_winding(input, merge::in_first_only, whole, tolerance, Verify::quick),
        proof::WindingBreach);
    CHECK(proof::check_winding(input, merge::in_first, whole, tolerance, Verify::quick).checks > 0);
}
