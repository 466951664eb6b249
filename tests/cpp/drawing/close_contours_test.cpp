/// Loose curves to contours: closed forms for areas, and damage that has to be named.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

#include "drawing/area_of.hpp"
#include "planform/drawing.hpp"
#include "planform/error.hpp"

using namespace planform;
using doctest::Approx;

namespace {

std::vector<Curve> rectangle(double x, double y, double width, double height) {
    const std::vector<Point2> corners = {
        {x, y}, {x + width, y}, {x + width, y + height}, {x, y + height}};
    std::vector<Curve> sides;
    for (std::size_t i = 0; i < 4; ++i) sides.emplace_back(Line{corners[i], corners[(i + 1) % 4]});
    return sides;
}

/// Two lines and two half circles, joined with common tangents.
std::vector<Curve> slot(double length, double radius) {
    return {Line{{0, -radius}, {length, -radius}}, Arc{{length, 0}, radius, -0.5 * pi, pi},
            Line{{length, radius}, {0, radius}}, Arc{{0, 0}, radius, 0.5 * pi, pi}};
}

/// A cubic over a chord from (0, 0) to (10, 0).
Spline arch() { return {3, {0, 0, 0, 0, 1, 1, 1, 1}, {{0, 0}, {2, 6}, {7, 8}, {10, 0}}, {}}; }

bool is_sound(const ClosedContours& closed) {
    return closed.open.empty() && closed.gaps.empty() && closed.doubles.empty() &&
           closed.tiny.empty() && closed.crossings.empty();
}

}  // namespace

TEST_CASE("curves in any order and direction are chained, and nothing is found") {
    std::mt19937 random(7);
    for (int trial = 0; trial < 20; ++trial) {
        std::vector<Curve> curves = rectangle(-40, -40, 120, 80);
        for (const Curve& curve : slot(20, 6)) curves.push_back(curve);
        curves.emplace_back(Arc{{60, 0}, 5, 1.0, 2 * pi});
        std::shuffle(curves.begin(), curves.end(), random);
        for (Curve& curve : curves)
            if (random() % 2 == 0) curve = reversed(curve);
        const ClosedContours closed = close_contours(curves);
        CHECK(is_sound(closed));
        REQUIRE(closed.chains.size() == 3);
        CHECK(area_of(closed) == Approx(120 * 80 + 240 + 36 * pi + 25 * pi).epsilon(1e-14));
        std::vector<Contour> contours;
        for (const ClosedChain& chain : closed.chains) contours.push_back(chain.contour);
        const auto profiles = nested_profiles(contours);
        REQUIRE(profiles.size() == 1);
        CHECK(profiles[0].area() == Approx(120 * 80 - 240 - 36 * pi - 25 * pi).epsilon(1e-14));
    }
}

TEST_CASE("a gap is closed along the curves themselves: the area is that of the whole") {
    struct Case {
        const char* what;
        std::vector<Curve> whole;
        std::size_t damaged;
    };
    std::vector<Curve> dome = {arch(), Line{{10, 0}, {0, 0}}};
    std::vector<Curve> half = {EllipticalArc{{0, 0}, {10, 0}, 0.4, 0, pi}, Line{{-10, 0}, {10, 0}}};
    const std::vector<Case> cases = {
        {"line at a corner", rectangle(0, 0, 30, 20), 1},
        {"line into an arc", slot(20, 6), 0},
        {"arc into a line", slot(20, 6), 1},
        {"spline at a corner", dome, 0},
        {"ellipse at a corner", half, 0},
        {"circle", {Arc{{3, 4}, 7, 0.3, 2 * pi}}, 0},
        {"ellipse", {EllipticalArc{{3, 4}, {7, 1}, 0.5, 0.3, 2 * pi}}, 0},
    };
    for (const Case& c : cases)
        for (const double gap : {1e-3, 1e-2, 0.1, 1.0}) {
            CAPTURE(c.what);
            CAPTURE(gap);
            const double area = area_of(close_contours(c.whole));
            std::vector<Curve> damaged = c.whole;
            Curve& curve = damaged[c.damaged];
            const Interval range = domain(curve);
            const double share = gap / length(curve);
            curve = trimmed(curve, range.first, range.last - share * (range.last - range.first));
            const double width = (end_point(curve) - end_point(c.whole[c.damaged])).norm();

            const ClosedContours left = close_contours(damaged);
            REQUIRE(left.gaps.size() == 1);
            CHECK(left.gaps[0].width == Approx(width).epsilon(1e-9));
            CHECK(left.gaps[0].closing == Gap::Closing::open);
            CHECK(left.chains.empty());
            REQUIRE(left.open.size() == 1);
            CHECK_FALSE(left.open[0].stray);

            const ClosedContours mended = close_contours(damaged, {.gap = 1.5 * width});
            REQUIRE(mended.chains.size() == 1);
            CHECK(mended.open.empty());
            REQUIRE(mended.gaps.size() == 1);
            CHECK(mended.gaps[0].closing == Gap::Closing::extended);
            CHECK(area_of(mended) == Approx(area).epsilon(1e-9));
            CHECK(mended.chains[0].contour.curves().size() == c.whole.size());
        }
}

TEST_CASE("both sides of a corner and of a tangent joint cut back are restored") {
    std::vector<Curve> corner = rectangle(0, 0, 30, 20);
    corner[0] = Line{{0, 0}, {29.6, 0}};
    corner[1] = Line{{30, 0.3}, {30, 20}};
    const ClosedContours square = close_contours(corner, {.gap = 1.0});
    CHECK(area_of(square) == Approx(600.0).epsilon(1e-14));
    CHECK(square.gaps.at(0).width == Approx(0.5));

    std::vector<Curve> joint = slot(20, 6);
    joint[0] = Line{{0, -6}, {19.7, -6}};
    joint[1] = Arc{{20, 0}, 6, -0.5 * pi + 0.05, pi - 0.05};
    CHECK(area_of(close_contours(joint, {.gap = 1.0})) == Approx(240 + 36 * pi).epsilon(1e-12));
}

TEST_CASE("a missing side is an open outline with its width, a lone line a stray") {
    std::vector<Curve> curves = rectangle(0, 0, 30, 20);
    curves.erase(curves.begin());
    curves.emplace_back(Line{{100, 0}, {110, 5}});
    const ClosedContours closed = close_contours(curves, {.gap = 1.0});
    CHECK(closed.chains.empty());
    REQUIRE(closed.gaps.size() == 1);
    CHECK(closed.gaps[0].width == Approx(30.0));
    REQUIRE(closed.open.size() == 2);
    CHECK(closed.open[0].stray != closed.open[1].stray);
}

TEST_CASE("what is drawn twice counts once, however it is drawn") {
    const std::vector<Curve> outline = rectangle(0, 0, 30, 20);
    const auto with = [](std::vector<Curve> curves, const std::vector<Curve>& more) {
        curves.insert(curves.end(), more.begin(), more.end());
        return close_contours(curves);
    };
    SUBCASE("reversed") {
        const ClosedContours closed = with(outline, {reversed(outline[2])});
        REQUIRE(closed.doubles.size() == 1);
        CHECK(closed.doubles[0].whole);
        CHECK(closed.doubles[0].length == Approx(30.0));
        CHECK(closed.open.empty());
        CHECK(area_of(closed) == Approx(600.0).epsilon(1e-14));
    }
    SUBCASE("a part of a line, hanging over its end") {
        const ClosedContours closed = with(outline, {Line{{20, 0}, {36, 0}}});
        REQUIRE(closed.doubles.size() == 1);
        CHECK_FALSE(closed.doubles[0].whole);
        CHECK(closed.doubles[0].length == Approx(10.0));
        REQUIRE(closed.open.size() == 1);
        CHECK(closed.open[0].stray);
        CHECK(closed.open[0].length == Approx(6.0));
        CHECK(area_of(closed) == Approx(600.0).epsilon(1e-14));
    }
    SUBCASE("a longer line over a side") {
        const ClosedContours closed = with(outline, {Line{{-5, 0}, {36, 0}}});
        CHECK(closed.doubles.size() == 1);
        CHECK(closed.open.size() == 2);
        CHECK(area_of(closed) == Approx(600.0).epsilon(1e-14));
    }
    SUBCASE("a side in two parts that overlap is one side") {
        std::vector<Curve> parts = outline;
        parts[0] = Line{{0, 0}, {20, 0}};
        parts.emplace_back(Line{{30, 0}, {12, 0}});
        const ClosedContours closed = close_contours(parts);
        CHECK(closed.doubles.size() == 1);
        CHECK(closed.open.empty());
        CHECK(area_of(closed) == Approx(600.0).epsilon(1e-14));
    }
    SUBCASE("arcs over a circle") {
        const Arc circle{{3, 4}, 7, 0.3, 2 * pi};
        const ClosedContours closed =
            with({circle}, {trimmed(circle, 0.1, 0.5), Arc{{3, 4}, 7, 6.0, -2.5}});
        CHECK(closed.doubles.size() == 2);
        CHECK(closed.open.empty());
        CHECK(area_of(closed) == Approx(49 * pi).epsilon(1e-14));
        CHECK(closed.chains.at(0).contour.is_circle());
    }
    SUBCASE("a spline, whole and in part") {
        const std::vector<Curve> dome = {arch(), Line{{10, 0}, {0, 0}}};
        const double area = area_of(close_contours(dome));
        for (const Curve& copy : {reversed(arch()), trimmed(arch(), 0.2, 0.7)}) {
            const ClosedContours closed = with(dome, {copy});
            CHECK(closed.doubles.size() == 1);
            CHECK(closed.open.empty());
            CHECK(area_of(closed) == Approx(area).epsilon(1e-12));
        }
    }
    SUBCASE("a heap of copies takes no longer than its number") {
        std::vector<Curve> heap = outline;
        for (int i = 0; i < 20000; ++i) heap.push_back(outline[static_cast<std::size_t>(i) % 4]);
        const ClosedContours closed = close_contours(heap);
        CHECK(closed.doubles.size() == 20000);
        CHECK(closed.chains.size() == 1);
    }
}

TEST_CASE("small features that belong there are left alone") {
    SUBCASE("edges of a micrometre") {
        const std::vector<Point2> corners = {{0, 0},         {10, 0}, {10, 1e-3}, {10 + 1e-3, 1e-3},
                                             {10 + 1e-3, 5}, {0, 5}};
        std::vector<Curve> curves;
        for (std::size_t i = 0; i < corners.size(); ++i)
            curves.emplace_back(Line{corners[i], corners[(i + 1) % corners.size()]});
        const ClosedContours closed = close_contours(curves, {.gap = 1.0});
        CHECK(is_sound(closed));
        CHECK(closed.chains.at(0).contour.curves().size() == 6);
    }
    SUBCASE("squares that touch in a corner, and a circle that touches a side") {
        std::vector<Curve> curves = rectangle(0, 0, 10, 10);
        for (const Curve& side : rectangle(10, 10, 10, 10)) curves.push_back(side);
        curves.emplace_back(Arc{{5, -3}, 3, 0.0, 2 * pi});
        const ClosedContours closed = close_contours(curves, {.gap = 1.0});
        CHECK(is_sound(closed));
        CHECK(closed.chains.size() == 3);
        CHECK(area_of(closed) == Approx(200 + 9 * pi).epsilon(1e-14));
    }
    SUBCASE("circles that are tangent but for rounding") {
        for (const double depth : {-1e-9, 0.0, 1e-9, 1e-7}) {
            CAPTURE(depth);
            CHECK(is_sound(close_contours(std::vector<Curve>{
                Arc{{0, 0}, 10, 0.1, 2 * pi}, Arc{{15 - depth, 0}, 5, 0.1, 2 * pi}})));
            CHECK(is_sound(close_contours(std::vector<Curve>{
                Arc{{0, 0}, 10, 0.1, 2 * pi}, Arc{{5 + depth, 0}, 5, 0.1, 2 * pi}})));
        }
    }
    SUBCASE("a thin ring") {
        CHECK(is_sound(close_contours(
            std::vector<Curve>{Arc{{0, 0}, 10, 0.1, 2 * pi}, Arc{{0, 0}, 9.999, 0.1, 2 * pi}})));
    }
}

TEST_CASE("crossings are named with their place") {
    const std::vector<Curve> eight = {Line{{0, 0}, {10, 10}}, Line{{10, 10}, {10, 0}},
                                      Line{{10, 0}, {0, 10}}, Line{{0, 10}, {0, 0}}};
    const ClosedContours closed = close_contours(eight);
    REQUIRE(closed.crossings.size() == 1);
    CHECK((closed.crossings[0].place - Point2(5, 5)).norm() < 1e-12);

    // x = 8 / 2 by the radical line of the circles, y by Pythagoras.
    const std::vector<Curve> circles = {Arc{{0, 0}, 5, 0.1, 2 * pi}, Arc{{8, 0}, 5, 0.1, 2 * pi}};
    const ClosedContours two = close_contours(circles);
    REQUIRE(two.crossings.size() == 2);
    for (const CrossedCurves& crossed : two.crossings) {
        CHECK(crossed.place.x() == Approx(4.0));
        CHECK(std::abs(crossed.place.y()) == Approx(3.0));
    }
}

TEST_CASE("curves without length are named and left out") {
    std::vector<Curve> curves = rectangle(0, 0, 30, 20);
    curves.emplace_back(Line{{30, 0}, {30, 0}});
    curves.emplace_back(Line{{5, 5}, {5, 5 + 1e-5}});
    const ClosedContours closed = close_contours(curves);
    REQUIRE(closed.tiny.size() == 2);
    CHECK(closed.tiny[0].curve == 4);
    CHECK(closed.tiny[1].length == Approx(1e-5));
    CHECK(closed.chains.size() == 1);
    CHECK(closed.open.empty());
}

TEST_CASE("nesting goes by depth") {
    std::vector<Contour> rings;
    for (const double radius : {2.0, 10.0, 4.0, 8.0, 6.0})
        rings.emplace_back(std::vector<Curve>{Arc{{1, 1}, radius, 0.0, 2 * pi}});
    const std::vector<std::string> names = {"a", "b", "c", "d", "e"};
    const std::vector<Profile> profiles = nested_profiles(rings, names);
    REQUIRE(profiles.size() == 3);
    double area = 0.0;
    for (const Profile& profile : profiles) area += profile.area();
    CHECK(area == Approx(pi * (100 - 64 + 36 - 16 + 4)));
    CHECK(profiles[0].name() == "a");
    CHECK(profiles[0].parent() == 2);
    CHECK(profiles[2].parent() == 1);
    CHECK_THROWS_AS(nested_profiles(rings, std::vector<std::string>(2)), GeometryError);
}

TEST_CASE("arguments that make no sense are refused") {
    const std::vector<Curve> curves = rectangle(0, 0, 1, 1);
    CHECK_THROWS_AS(close_contours(curves, {.gap = -1.0}), GeometryError);
    CHECK_THROWS_AS(close_contours(curves, {.gap = NAN}), GeometryError);
    CHECK_THROWS_AS(close_contours(curves, {.joint = 0.0}), GeometryError);
    CHECK_THROWS_AS(close_contours(curves, {}, std::vector<int>{1}), GeometryError);
    CHECK_THROWS_AS(close_contours(std::vector<Curve>{Line{{0, 0}, {NAN, 1}}}), GeometryError);
    CHECK(close_contours(std::vector<Curve>{}).chains.empty());
    CHECK(nested_profiles({}).empty());
}

TEST_CASE("arcs that meet in an inflection or a cusp don't lie on each other") {
    // Two circles that touch in (0, 0); an outline goes over the point and back round.
    for (const double side : {1.0, -1.0})
        for (const double radius : {0.5, 1.0, 5.0})
            for (const double sweep : {0.002, 0.02, 0.2}) {
                CAPTURE(side);
                CAPTURE(radius);
                CAPTURE(sweep);
                // One comes in from above, the other goes on below (inflection) or back (cusp).
                const Arc large{{-20, 0}, 20, 1.2, -1.2};
                const Arc small = side > 0 ? Arc{{radius, 0}, radius, pi, sweep}
                                           : Arc{{radius, 0}, radius, pi, -sweep};
                const std::vector<Curve> curves = {large, small, Line{end_point(small), {30, 5}},
                                                   Line{{30, 5}, start_point(large)}};
                const ClosedContours closed = close_contours(curves);
                CHECK(closed.doubles.empty());
                CHECK(closed.chains.size() == 1);
            }
}

TEST_CASE("a piece without length within an entity is no finding, one by itself is") {
    std::vector<Curve> curves = rectangle(0, 0, 30, 20);
    curves[1] = Line{{30, 0}, {30, 20 - 1e-6}};
    curves.emplace_back(Line{{30, 20 - 1e-6}, {30, 20}});
    CHECK(close_contours(curves, {}, std::vector<int>{0, 0, 0, 0, 0}).tiny.empty());
    CHECK(close_contours(curves, {}, std::vector<int>{0, 0, 0, 0, 1}).tiny.size() == 1);
    CHECK(close_contours(curves).tiny.size() == 1);
    CHECK(close_contours(curves).chains.size() == 1);
}

TEST_CASE("a gap beside a place where contours touch is a gap") {
    // A disc and a hole that meet in (30, 0), where both circles start.
    const Arc hole{{23, 0}, 7, 0.0, 2 * pi};
    const std::vector<Curve> curves = {Arc{{0, 0}, 30, 0.0, 2 * pi - 0.001}, hole};
    const ClosedContours left = close_contours(curves);
    REQUIRE(left.gaps.size() == 1);
    CHECK(left.gaps[0].width == Approx(60 * std::sin(0.0005)));
    CHECK(left.open.size() == 1);
    CHECK_FALSE(left.open.at(0).stray);
    const ClosedContours closed = close_contours(curves, {.gap = 0.1});
    CHECK(closed.open.empty());
    CHECK(area_of(closed) == Approx(949 * pi).epsilon(1e-14));

    // Squares that meet in (10, 10).
    std::vector<Curve> squares = rectangle(0, 0, 10, 10);
    for (const Curve& side : rectangle(10, 10, 10, 10)) squares.push_back(side);
    squares[1] = Line{{10, 0}, {10, 9.8}};
    CHECK(close_contours(squares).gaps.size() == 1);
    CHECK(area_of(close_contours(squares, {.gap = 0.3})) == Approx(200).epsilon(1e-14));
}

TEST_CASE("an outline with a part missing that touches another one is no pair of strays") {
    std::vector<Curve> curves = rectangle(0, 0, 10, 10);
    curves.emplace_back(Line{{10, 10}, {20, 12}});
    curves.emplace_back(Line{{10, 10}, {14, 20}});  // the third side is missing
    const ClosedContours closed = close_contours(curves, {.gap = 1.0});
    CHECK(closed.chains.size() == 1);
    REQUIRE(closed.open.size() == 2);
    CHECK_FALSE(closed.open[0].stray);
    CHECK_FALSE(closed.open[1].stray);
    REQUIRE(closed.gaps.size() == 1);
    CHECK(closed.gaps[0].width == Approx(10.0));  // 6, 8, 10
    curves.pop_back();
    CHECK(close_contours(curves).open.at(0).stray);
}

TEST_CASE("a line over two neighbours on one line counts once, whoever is longer") {
    // The lower side is in two parts; what lies over it starts in one and stops in the other.
    for (const double corner : {29.0, 20.0, 10.0, 2.0})
        for (const double from : {0.0, 1.5}) {
            CAPTURE(corner);
            CAPTURE(from);
            std::vector<Curve> curves = rectangle(0, 0, 30, 20);
            curves[0] = Line{{0, 0}, {corner, 0}};
            curves.emplace_back(Line{{corner, 0}, {30, 0}});
            curves.emplace_back(Line{{from, 0}, {29.5, 0}});
            const ClosedContours closed = close_contours(curves);
            CHECK(area_of(closed) == Approx(600.0).epsilon(1e-14));
            CHECK(closed.open.empty());
            CHECK(closed.gaps.empty());
            double removed = 0.0;
            for (const DoubledCurve& doubled : closed.doubles) removed += doubled.length;
            CHECK(removed == Approx(29.5 - from).epsilon(1e-12));
            // Shorter than the part under it: one curve, drawn once too often.
            if (corner == 29.0 && from > 0.0) CHECK(closed.doubles.size() == 1);
        }
}

TEST_CASE("three and more on each other: one of them stays") {
    std::mt19937 random(11);
    std::uniform_real_distribution<double> place(0.0, 30.0);
    for (int trial = 0; trial < 300; ++trial) {
        CAPTURE(trial);
        std::vector<Curve> curves = rectangle(0, 0, 30, 20);
        const double first = place(random), second = place(random);
        curves[0] = Line{{0, 0}, {std::min(first, second), 0}};
        curves.emplace_back(Line{{std::max(first, second), 0}, {30, 0}});
        curves.emplace_back(Line{{std::min(first, second), 0}, {std::max(first, second), 0}});
        for (int i = 0; i < 4; ++i) {
            const double a = place(random), b = place(random);
            curves.emplace_back(Line{{a, 0}, {b, 0}});
        }
        std::shuffle(curves.begin(), curves.end(), random);
        const ClosedContours closed = close_contours(curves);
        CHECK(area_of(closed) == Approx(600.0).epsilon(1e-12));
        CHECK(closed.open.empty());
        CHECK(closed.gaps.empty());
    }
}

TEST_CASE("pieces of an entity that are shorter than a joint stay in its outline") {
    // A chamfer of ten nanometres and one of the least that counts, in polylines of any direction.
    for (const double size : {1e-8, 4e-6, 1.4e-5})
        for (const bool backward : {false, true})
            for (std::size_t start = 0; start < 5; ++start) {
                const std::vector<Point2> corners = {
                    {0, 0}, {30, 0}, {30, 20 - size}, {30 - size, 20}, {0, 20}};
                std::vector<Curve> curves;
                for (std::size_t i = 0; i < 5; ++i)
                    curves.emplace_back(
                        Line{corners[(start + i) % 5], corners[(start + i + 1) % 5]});
                if (backward) {
                    std::reverse(curves.begin(), curves.end());
                    for (Curve& curve : curves) curve = reversed(curve);
                }
                const std::vector<int> groups(5, 7);
                const ClosedContours closed = close_contours(curves, {}, groups);
                CHECK(is_sound(closed));
                REQUIRE(closed.chains.size() == 1);
                CHECK(closed.chains[0].contour.curves().size() == 5);
                for (const bool changed : closed.chains[0].changed) CHECK_FALSE(changed);
                CHECK(area_of(closed) == Approx(600.0 - 0.5 * size * size).epsilon(1e-15));
            }
    // Without an entity around it, a curve without length is none.
    std::vector<Curve> curves = rectangle(0, 0, 30, 20);
    curves.emplace_back(Line{{30, 20}, {30 - 1e-8, 20}});
    const ClosedContours closed = close_contours(curves);
    CHECK(closed.tiny.size() == 1);
    CHECK(closed.chains.at(0).contour.curves().size() == 4);
}
