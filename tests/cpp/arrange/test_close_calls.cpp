/// Curves that nearly coincide, gaps and bumps of a micrometre, sizes far apart, places far away.

#include <doctest/doctest.h>

#include <cmath>
#include <variant>

#include "arrange/expected.hpp"
#include "arrange/shapes.hpp"
#include "planform/error.hpp"

namespace planform::arrange::test {
namespace {

/// Gaps may be as large as the grid's resolution where curves are one on the grid.
void check_sound_close(const std::vector<Loop>& loops, double chord = 1e-5) {
    CHECK(fault(loops, 1e-7, chord) == "");
}

TEST_CASE("concentric circles, near and nearer") {
    for (const double apart : {1e-9, 1e-7, 1e-6, 1e-5, 2e-5, 5e-5, 1e-4, 1e-3}) {
        CAPTURE(apart);
        Shapes shapes;
        shapes.circle({0, 0}, 10).circle({0, 0}, 10 + apart, 0, 1, 1.0);
        const std::vector<Loop> united = arrange(shapes.input());
        REQUIRE(united.size() == 1);
        CHECK(count_curves(united) == 1);
        CHECK(std::abs(area(united) - pi * 100) <= 20 * pi * apart * 1.001);
        Options ring;
        ring.inside = [](const Winding& w) { return w[0] == 1; };
        const std::vector<Loop> between = arrange(shapes.input(), ring);
        if (apart >= 1e-4) {
            REQUIRE(between.size() == 2);
            check_sound_close(between);
            CHECK(area(between) == close_to(pi * (std::pow(10 + apart, 2) - 100)));
        } else if (apart <= 1e-5) {
            CHECK(between.empty());
        }
    }
}

TEST_CASE("circles moved by a micrometre and less") {
    for (const double apart : {1e-8, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3}) {
        CAPTURE(apart);
        const Input input = Shapes().circle({0, 0}, 10).circle({apart, 0}, 10, 0, 1, 2.0).input();
        const std::vector<Loop> united = arrange(input);
        REQUIRE(united.size() == 1);
        check_sound_close(united);
        CHECK(united[0].curves.size() <= 4);
        // Two equal disks at distance d cover pi r^2 + about 2 r d.
        CHECK(std::abs(area(united) - (100 * pi + 20 * apart)) <= 30 * std::min(apart, 1e-4));
        if (apart >= 1e-3) CHECK(united[0].curves.size() == 2);
    }
}

TEST_CASE("a circle in an ellipse whose tip has its curvature: one curve, no crumbs") {
    // At its tip an ellipse has the radius of curvature b^2 / a. The circle of that radius inside
    // is off by the fourth power of the distance: over 0.3 mm the two are one.
    const double a = 20.0, b = 10.0, radius = b * b / a;
    for (const double turned : {0.0, 1.0}) {
        CAPTURE(turned);
        const Vector2 axis(std::cos(turned), std::sin(turned));
        const Input input = Shapes()
                                .ellipse({30.0, 35.0}, a * axis, b / a)
                                .circle(Point2(30.0, 35.0) + (a - radius) * axis, radius, 1)
                                .input();
        const std::vector<Loop> united = arrange(input);
        REQUIRE(united.size() == 1);
        CHECK(united[0].curves.size() == 1);
        CHECK(area(united) == close_to(pi * a * b));
        Options common;
        common.inside = both;
        const std::vector<Loop> shared = arrange(input, common);
        REQUIRE(shared.size() == 1);
        CHECK(shared[0].curves.size() == 1);
        CHECK(area(shared) == close_to(pi * radius * radius));
    }
}

TEST_CASE("more than half a turn of a circle, and on along one that is nearly the same") {
    // A solid's own circle, and one fitted to an edge that another of its faces has along it: the
    // corner between them can't be told, so one of the two arcs stands for both.
    const double radius = 5.0, joint = 1.6894;  // rad
    for (const double turn : {0.1, 0.4, 1.0}) {
        CAPTURE(turn);
        const Point2 center(2.0, -1.0), second(1.999999512, -0.9999986308);
        const double other = 4.999998567;
        const auto at = [](const Point2& c, double r, double angle) -> Point2 {
            return c + r * Vector2(std::cos(angle), std::sin(angle));
        };
        const Point2 start = at(center, radius, -0.5 * pi), end = at(second, other, joint + turn);
        const std::vector<Curve> curves = {
            Line{{-6.0, -16.0}, {2.0, -16.0}},
            Line{{2.0, -16.0}, start},
            Arc{center, radius, -0.5 * pi, joint + 0.5 * pi},
            Arc{second, other, joint, turn},
            Line{end, {-6.0, end.y()}},
            Line{{-6.0, end.y()}, {-6.0, -16.0}},
        };
        const std::vector<Loop> loops = arrange(Shapes().chain(curves).input());
        REQUIRE(loops.size() == 1);
        CHECK(fault(loops, 1e-6, 1e-5) == "");
        // The polygon of the corners, and the segment of the circle over its last side.
        const double swept = joint + turn + 0.5 * pi;
        const std::vector<Point2> corners = {
            {-6.0, -16.0}, {2.0, -16.0}, start, end, {-6.0, end.y()}};
        double polygon = 0.0;
        for (std::size_t i = 0; i < corners.size(); ++i)
            polygon += 0.5 * cross(corners[i], corners[(i + 1) % corners.size()]);
        CHECK(area(loops) ==
              doctest::Approx(polygon + segment_area(radius, 0.5 * swept)).epsilon(1e-6));
    }
}

TEST_CASE("splines that nearly coincide") {
    const std::vector<Point2> poles = {{0, 0}, {10, 20}, {30, 20}, {40, 0}};
    const Curve hump = cubic(poles[0], poles[1], poles[2], poles[3]);
    const double whole =
        area(arrange(Shapes().chain({Line{{0, 0}, {40, 0}}, reversed(hump)}).input()));
    for (const double apart : {1e-9, 1e-8, 1e-7, 1e-6, 1e-5, 3e-5, 1e-4, 1e-3}) {
        CAPTURE(apart);
        // Same ends, another belly.
        const Curve other = cubic(poles[0], poles[1] + Vector2(apart, apart),
                                  poles[2] + Vector2(apart, -2 * apart), poles[3]);
        Shapes shapes;
        shapes.chain({Line{{0, 0}, {40, 0}}, reversed(hump)});
        shapes.chain({Line{{0, 0}, {40, 0}}, reversed(other)});
        const std::vector<Loop> united = arrange(shapes.input());
        REQUIRE(united.size() == 1);
        check_sound_close(united);
        CHECK(united[0].curves.size() <= 5);
        CHECK(std::abs(area(united) - whole) <= 100 * apart);

        // One below, the other above: what lies between is a gap or an overlap of that width.
        Shapes halves;
        halves.chain({Line{{0, 0}, {40, 0}}, reversed(hump)});
        halves.chain(
            {other, Line{{40, 0}, {40, 50}}, Line{{40, 50}, {0, 50}}, Line{{0, 50}, {0, 0}}});
        const std::vector<Loop> joined = arrange(halves.input());
        CHECK(!joined.empty());
        CHECK(std::abs(area(joined) - 2000) <= 100 * apart);
        if (apart <= 1e-6) CHECK(joined.size() == 1);
    }
}

TEST_CASE("a hole a micrometre from the edge") {
    const Input input = Shapes().rectangle(0, 0, 40, 20).circle({20, 5.001}, 5, 0, -1, 0.3).input();
    const std::vector<Loop> loops = arrange(input);
    REQUIRE(loops.size() == 2);
    check_sound_close(loops);
    CHECK(area(loops) == close_to(800 - 25 * pi));
    CHECK(count_curves(loops) == 5);
}

TEST_CASE("a hole that cuts the edge by a micrometre") {
    const Input input = Shapes().rectangle(0, 0, 40, 20).circle({20, 4.999}, 5, 0, -1, 0.3).input();
    const std::vector<Loop> loops = arrange(input);
    REQUIRE(loops.size() == 1);
    check_sound_close(loops);
    CHECK(count_curves(loops) == 6);
    CHECK(area(loops) == close_to(800 - 25 * pi + segment_area(5, std::acos(4.999 / 5))));
}

TEST_CASE("a hole that touches the edge") {
    const Input input = Shapes().rectangle(0, 0, 40, 20).circle({20, 5}, 5, 0, -1, 0.3).input();
    const std::vector<Loop> loops = arrange(input);
    check_sound_close(loops);
    CHECK(area(loops) == close_to(800 - 25 * pi));
}

TEST_CASE("holes a micrometre apart and overlapping by one") {
    for (const double gap : {1e-3, -1e-3}) {
        CAPTURE(gap);
        const double d = 6 + gap;
        const Input input = Shapes()
                                .rectangle(-20, -10, 20, 10)
                                .circle({0, 0}, 3, 0, -1)
                                .circle({0.6 * d, 0.8 * d}, 3, 0, -1)
                                .input();
        const std::vector<Loop> loops = arrange(input);
        check_sound_close(loops);
        CHECK(loops.size() == (gap > 0 ? 3 : 2));
        const double common = gap > 0 ? 0.0 : 2 * segment_area(3, std::acos(d / 6));
        CHECK(area(loops) == close_to(800 - 18 * pi + common));
    }
}

TEST_CASE("a grain beside a big plate") {
    // 1e-3 mm beside 1e4 mm: the grid is as fine as 2^30 cells allow, 1e-5 mm.
    const Input input = Shapes()
                            .rectangle(0, 0, 10000, 10000)
                            .rectangle(10001, 1, 10001.001, 1.001)
                            .circle({5000, 5000}, 0.5e-3, 0, -1)
                            .input();
    const std::vector<Loop> loops = arrange(input);
    REQUIRE(loops.size() == 3);
    for (const Loop& loop : loops) {
        const double a = std::abs(area(loop));
        if (loop.hole) CHECK(a == close_to(pi * 0.25e-6));
        if (!loop.hole && a < 1.0)
            CHECK(a == doctest::Approx(1e-6).epsilon(1e-8));  // as the ends allow
        if (!loop.hole && a > 1.0) CHECK(a == close_to(1e8));
    }
}

TEST_CASE("far from the origin") {
    const Vector2 away(1e6, -1e6);
    const Input input = Shapes()
                            .rectangle(away.x(), away.y(), away.x() + 40, away.y() + 20)
                            .circle(Point2(20, 10) + away, 5, 0, -1)
                            .circle(Point2(40, 10) + away, 4)
                            .input();
    const std::vector<Loop> loops = arrange(input);
    REQUIRE(loops.size() == 2);
    CHECK(fault(loops, 1e-7, 1e-4) == "");
    // Coordinates of 1e6 mm carry 1e-10 mm, an outline of 120 mm so 1e-8 mm^2 in 750.
    CHECK(area(loops) == doctest::Approx(800 - 25 * pi + 8 * pi).epsilon(1e-9));
    CHECK(count_curves(loops) == 7);
}

TEST_CASE("a fine tolerance and a coarse one") {
    const Input input = Shapes().circle({0, 0}, 10).circle({12, 0}, 8).input();
    const double a = std::acos(180.0 / 240), b = std::acos(108.0 / 192);
    const double expected = 164 * pi - segment_area(10, a) - segment_area(8, b);
    for (const double tolerance : {1e-4, 1e-3, 0.1, 1.0, 5.0}) {
        CAPTURE(tolerance);
        Options options;
        options.tolerance = tolerance;
        const std::vector<Loop> loops = arrange(input, options);
        REQUIRE(loops.size() == 1);
        CHECK(loops[0].curves.size() == 2);
        CHECK(area(loops) == close_to(expected));
    }
}

TEST_CASE("ends that meet no better than real files do") {
    // Vertices a hundredth of a micrometre to a micrometre off the curves' ends.
    for (const double off : {1e-8, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3}) {
        CAPTURE(off);
        Shapes shapes;
        shapes.chain({Line{{0, -4}, {30, -4}}, Arc{{30, 0}, 4, -pi / 2, pi}, Line{{30, 4}, {0, 4}},
                      Arc{{0, 0}, 4, pi / 2, pi}});
        Input input = shapes.input();
        for (std::size_t i = 0; i < input.nodes.size(); ++i)
            input.nodes[i] += off * Vector2(std::cos(1.0 + 2.0 * static_cast<double>(i)),
                                            std::sin(1.0 + 2.0 * static_cast<double>(i)));
        const std::vector<Loop> loops = arrange(input);
        REQUIRE(loops.size() == 1);
        CHECK(fault(loops, 1e-7, 1e-4) == "");
        CHECK(loops[0].curves.size() == 4);
        CHECK(area(loops) == close_to(240 + 16 * pi));
    }
}

TEST_CASE("bad input") {
    const auto kind = [](const Input& input, const Options& options = {}) {
        try {
            arrange(input, options);
        } catch (const Error& error) {
            return error.kind();
        }
        return ErrorKind::kernel_failure;
    };
    Input open = Shapes().rectangle(0, 0, 10, 10).input();
    open.curves.pop_back();
    CHECK(kind(open) == ErrorKind::contour_not_closed);
    Input uneven = Shapes().rectangle(0, 0, 10, 10).input();
    uneven.curves.back().weight = 2;
    CHECK(kind(uneven) == ErrorKind::contour_not_closed);
    Input endless = Shapes().rectangle(0, 0, 10, 10).input();
    endless.nodes[1].x() = std::nan("");
    CHECK(kind(endless) == ErrorKind::invalid_argument);
    Input bad_curve = Shapes().circle({0, 0}, 10).input();
    std::get<Arc>(bad_curve.curves[0].curve).radius = -1;
    CHECK(kind(bad_curve) == ErrorKind::invalid_argument);
    Input bad_operand = Shapes().circle({0, 0}, 10, 2).input();
    CHECK(kind(bad_operand) == ErrorKind::invalid_argument);
    Input bad_node = Shapes().circle({0, 0}, 10).input();
    bad_node.curves[0].end_node = 7;
    CHECK(kind(bad_node) == ErrorKind::invalid_argument);
    const Input good = Shapes().circle({0, 0}, 10).input();
    for (const double tolerance : {0.0, -1.0, std::nan(""), HUGE_VAL}) {
        Options options;
        options.tolerance = tolerance;
        CHECK(kind(good, options) == ErrorKind::invalid_argument);
    }
}

TEST_CASE("the same input gives the same output") {
    Shapes shapes;
    for (int i = 0; i < 40; ++i)
        shapes.circle({7.0 * (i % 8), 5.0 * (i / 8)}, 4.0 + 0.1 * i, 0, i % 3 == 0 ? -1 : 1,
                      0.2 * i);
    const std::vector<Loop> once = arrange(shapes.input()), again = arrange(shapes.input());
    REQUIRE(once.size() == again.size());
    CHECK(count_curves(once) > 20);
    for (std::size_t i = 0; i < once.size(); ++i) {
        CHECK(once[i].tags == again[i].tags);
        CHECK(area(once[i]) == area(again[i]));
    }
}

TEST_CASE("tags come back with the pieces") {
    // Rectangle: tags 0 to 3; circle: tag 4.
    const Input input = Shapes().rectangle(0, 0, 20, 10).circle({20, 5}, 3).input();
    const std::vector<Loop> loops = arrange(input);
    REQUIRE(loops.size() == 1);
    std::vector<int> count(5, 0);
    for (std::size_t i = 0; i < loops[0].curves.size(); ++i) {
        REQUIRE(loops[0].tags[i] >= 0);
        REQUIRE(loops[0].tags[i] < 5);
        ++count[static_cast<std::size_t>(loops[0].tags[i])];
        CHECK(std::holds_alternative<Arc>(loops[0].curves[i]) == (loops[0].tags[i] == 4));
    }
    CHECK(count == std::vector<int>{1, 2, 1, 1, 1});
}

}  // namespace
}  // namespace planform::arrange::test
