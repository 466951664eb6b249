/// Exact results against closed forms, to 1e-9 relative.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <variant>

#include "arrange/expected.hpp"
#include "arrange/shapes.hpp"

namespace planform::arrange::test {
namespace {

template <typename Kind>
std::size_t count_kind(const std::vector<Loop>& loops) {
    std::size_t count = 0;
    for (const Loop& loop : loops)
        for (const Curve& curve : loop.curves) count += std::holds_alternative<Kind>(curve) ? 1 : 0;
    return count;
}

/// Common area of two disks whose centres lie `distance` apart: one segment of each, with the half
/// angles from the law of cosines on the triangle of centres and crossing.
double lens_area(double r, double s, double distance) {
    const double d = distance;
    return segment_area(r, std::acos((d * d + r * r - s * s) / (2 * d * r))) +
           segment_area(s, std::acos((d * d + s * s - r * r) / (2 * d * s)));
}

TEST_CASE("lines that are nearly one keep their own places if asked for") {
    const double apart = 5e-8;
    const Input input = Shapes().rectangle(0, 0, 10, 10).rectangle(20, apart, 30, 10).input();
    Options options;
    for (const bool strict : {false, true}) {
        if (strict) options.same_line = 1e-10;
        const std::vector<Loop> loops = arrange(input, options);
        REQUIRE(loops.size() == 2);
        double least = 1.0, most = 0.0;
        for (const Loop& loop : loops) {
            double bottom = 1.0;
            for (const Curve& curve : loop.curves)
                bottom = std::min(bottom, start_point(curve).y());
            least = std::min(least, bottom);
            most = std::max(most, bottom);
        }
        CHECK(std::abs(most - least - (strict ? apart : 0.0)) < 1e-14);
    }
}

TEST_CASE("lens of two disks") {
    for (const double distance : {0.5, 3.0, 7.0, 9.9, 11.5}) {
        CAPTURE(distance);
        const Input input = Shapes()
                                .circle({3, 4}, 7)
                                .circle({3 + 0.6 * distance, 4 + 0.8 * distance}, 5, 1)
                                .input();
        Options options;
        if (distance < 2.0) {
            options.inside = both;
            CHECK(area(arrange(input, options)) == close_to(25 * pi));
            options.inside = first_only;
            const std::vector<Loop> ring = arrange(input, options);
            CHECK(area(ring) == close_to(24 * pi));
            CHECK(ring.size() == 2);
            continue;
        }
        const double lens = lens_area(7, 5, distance);
        options.inside = both;
        std::vector<Loop> loops = arrange(input, options);
        check_sound(loops);
        CHECK(count_curves(loops) == 2);
        CHECK(area(loops) == close_to(lens));
        options.inside = first_only;
        loops = arrange(input, options);
        check_sound(loops);
        CHECK(count_curves(loops) == 2);
        CHECK(area(loops) == close_to(49 * pi - lens));
        options.inside = either;
        loops = arrange(input, options);
        check_sound(loops);
        CHECK(count_curves(loops) == 2);
        CHECK(area(loops) == close_to(74 * pi - lens));
    }
}

TEST_CASE("a ring of overlapping disks") {
    for (const int count : {3, 6, 12, 50}) {
        CAPTURE(count);
        Shapes shapes;
        const double pitch = 8.0;  // distance of neighbours, radius 5: only neighbours overlap
        const double ring = 0.5 * pitch / std::sin(pi / count);
        for (int i = 0; i < count; ++i) {
            const double angle = 2 * pi * i / count + 0.1;
            shapes.circle({ring * std::cos(angle), ring * std::sin(angle)}, 5, 0, 1, 0.3 * i);
        }
        const std::vector<Loop> loops = arrange(shapes.input());
        check_sound(loops);
        // Three disks of radius 5 at pitch 8 leave a hole: their circumradius 4.62 is below 5, so
        // no.
        const double common = count == 3 ? 1.0 : 0.0;
        REQUIRE(loops.size() == (count == 3 ? 1 : 2));
        CHECK(count_curves(loops) == (count == 3 ? 3 : 2 * static_cast<std::size_t>(count)));
        if (common == 0.0)
            CHECK(area(loops) == close_to(count * (25 * pi - lens_area(5, 5, pitch))));
    }
}

TEST_CASE("ellipse cut by a line") {
    // The affine map that makes the ellipse a circle keeps ratios of areas: the part of an ellipse
    // with semi-axes a, b beyond x = h is (b / a) times that of the circle of radius a.
    const double a = 20, b = 8, h = 5;
    const Input input =
        Shapes().ellipse({0, 0}, {a, 0}, b / a).rectangle(h, -50, 100, 50, 1).input();
    Options options;
    options.inside = both;
    std::vector<Loop> loops = arrange(input, options);
    check_sound(loops);
    CHECK(count_curves(loops) == 2);
    CHECK(count_kind<EllipticalArc>(loops) == 1);
    CHECK(area(loops) == close_to(b / a * segment_area(a, std::acos(h / a))));
    options.inside = first_only;
    loops = arrange(input, options);
    check_sound(loops);
    CHECK(area(loops) == close_to(pi * a * b - b / a * segment_area(a, std::acos(h / a))));
}

TEST_CASE("two crossed ellipses") {
    // Congruent, at right angles, same centre: four crossings at |x| = |y| = ab / sqrt(a^2 + b^2).
    // Common part by polar integration over one octant pair: 4 ab atan(b / a).
    const double a = 20, b = 8;
    const Input input =
        Shapes().ellipse({0, 0}, {a, 0}, b / a).ellipse({0, 0}, {0, a}, b / a, 1).input();
    Options options;
    options.inside = both;
    const std::vector<Loop> loops = arrange(input, options);
    check_sound(loops);
    CHECK(count_curves(loops) == 4);
    CHECK(area(loops) == close_to(4 * a * b * std::atan(b / a)));
}

TEST_CASE("half a disk") {
    const Input input = Shapes().circle({5, 5}, 10).rectangle(-100, 5, 100, 100, 1).input();
    Options options;
    options.inside = first_only;
    const std::vector<Loop> loops = arrange(input, options);
    check_sound(loops);
    REQUIRE(loops.size() == 1);
    CHECK(loops[0].curves.size() == 2);
    CHECK(area(loops) == close_to(50 * pi));
}

TEST_CASE("one circle in many guises is one circle") {
    const Point2 center{7, -3};
    const auto arcs = [&](const std::vector<double>& cuts) {
        std::vector<Curve> curves;
        for (std::size_t i = 0; i < cuts.size(); ++i) {
            const double end = i + 1 < cuts.size() ? cuts[i + 1] : cuts[0] + 2 * pi;
            curves.push_back(Arc{center, 12, cuts[i], end - cuts[i]});
        }
        return curves;
    };
    SUBCASE("halves and thirds") {
        Shapes shapes;
        shapes.chain(arcs({0.2, 0.2 + pi})).chain(arcs({1.0, 2.5, 4.0}));
        const std::vector<Loop> loops = arrange(shapes.input());
        REQUIRE(loops.size() == 1);
        CHECK(loops[0].curves.size() == 1);
        CHECK(area(loops) == close_to(144 * pi));
    }
    SUBCASE("full circles from different angles") {
        Shapes shapes;
        shapes.circle(center, 12, 0, 1, 0.0)
            .circle(center, 12, 0, 1, 1.0)
            .circle(center, 12, 0, 1, 4.0);
        const std::vector<Loop> loops = arrange(shapes.input());
        REQUIRE(loops.size() == 1);
        CHECK(loops[0].curves.size() == 1);
        CHECK(area(loops) == close_to(144 * pi));
    }
    SUBCASE("one cancels another that is cut elsewhere") {
        Shapes shapes;
        shapes.chain(arcs({0.2, 0.2 + pi})).circle(center, 12, 0, -1, 3.0);
        CHECK(arrange(shapes.input()).empty());
    }
    SUBCASE("a disk and a half disk of the same circle") {
        Shapes shapes;
        shapes.circle(center, 12, 0, 1, 0.5);
        shapes.chain({Arc{center, 12, 0, pi}, Line{{-5, -3}, {19, -3}}});
        const std::vector<Loop> loops = arrange(shapes.input());
        REQUIRE(loops.size() == 1);
        CHECK(loops[0].curves.size() == 1);
        CHECK(area(loops) == close_to(144 * pi));
        Options twice;
        twice.inside = [](const Winding& w) { return w[0] > 1; };
        const std::vector<Loop> half = arrange(shapes.input(), twice);
        REQUIRE(half.size() == 1);
        CHECK(half[0].curves.size() == 2);
        CHECK(area(half) == close_to(72 * pi));
    }
}

TEST_CASE("tangent circles") {
    SUBCASE("outside") {
        const Input input = Shapes().circle({0, 0}, 5).circle({12, 0}, 7).input();
        const std::vector<Loop> loops = arrange(input);
        check_sound(loops);
        CHECK(area(loops) == close_to(74 * pi));
    }
    SUBCASE("outside, slanted") {
        const Input input = Shapes().circle({0, 0}, 5).circle({7.2, 9.6}, 7).input();
        const std::vector<Loop> loops = arrange(input);
        check_sound(loops);
        CHECK(area(loops) == close_to(74 * pi));
    }
    SUBCASE("a hole that touches the edge from inside") {
        const Input input = Shapes().circle({0, 0}, 10).circle({3.6, 4.8}, 4, 0, -1).input();
        const std::vector<Loop> loops = arrange(input);
        check_sound(loops);
        CHECK(area(loops) == close_to(84 * pi));
    }
    SUBCASE("a disk inside another, touching") {
        const Input input = Shapes().circle({0, 0}, 10).circle({3.6, 4.8}, 4).input();
        const std::vector<Loop> loops = arrange(input);
        check_sound(loops);
        CHECK(count_curves(loops) == 1);
        CHECK(area(loops) == close_to(100 * pi));
    }
}

TEST_CASE("a slot stays two lines and two arcs") {
    for (const double angle : {0.0, 0.3, 1.5707963267948966, 2.0}) {
        CAPTURE(angle);
        Shapes shapes;
        shapes.chain({Line{{0, -4}, {30, -4}}, Arc{{30, 0}, 4, -pi / 2, pi}, Line{{30, 4}, {0, 4}},
                      Arc{{0, 0}, 4, pi / 2, pi}});
        const Transform2 turn{Eigen::Rotation2Dd(angle)};
        const std::vector<Loop> loops = arrange(transformed(shapes.input(), turn));
        REQUIRE(loops.size() == 1);
        check_sound(loops);
        CHECK(count_kind<Line>(loops) == 2);
        CHECK(count_kind<Arc>(loops) == 2);
        CHECK(area(loops) == close_to(240 + 16 * pi));
    }
}

TEST_CASE("a rounded plate made of overlapping bodies") {
    // Two rectangles and four disks: their union is a rectangle with four fillets, where every disk
    // is tangent to two edges.
    const double w = 40, h = 25, r = 6;
    Shapes shapes;
    shapes.rectangle(-w, -h + r, w, h - r).rectangle(-w + r, -h, w - r, h);
    for (const double x : {-w + r, w - r})
        for (const double y : {-h + r, h - r}) shapes.circle({x, y}, r, 0, 1, 0.7);
    for (const double angle : {0.0, 0.4, 2.2}) {
        CAPTURE(angle);
        const Transform2 turn{Eigen::Rotation2Dd(angle)};
        const std::vector<Loop> loops = arrange(transformed(shapes.input(), turn));
        REQUIRE(loops.size() == 1);
        check_sound(loops);
        CHECK(count_kind<Line>(loops) == 4);
        CHECK(count_kind<Arc>(loops) == 4);
        CHECK(area(loops) == close_to(4 * w * h - (4 - pi) * r * r));
    }
}

TEST_CASE("weights and reversal") {
    Shapes shapes;
    shapes.circle({0, 0}, 10, 0, 2).rectangle(-3, -30, 3, 30, 0, 1);
    const double strip = area(arrange(Shapes().rectangle(-3, -30, 3, 30).input()));
    CHECK(strip == close_to(360));
    const std::vector<Loop> loops = arrange(shapes.input());
    check_sound(loops);
    Options below;
    below.inside = [](const Winding& w) { return w[0] < 0; };
    const std::vector<Loop> turned = arrange(turned_round(shapes.input()), below);
    check_sound(turned);
    CHECK(area(turned) == close_to(area(loops)));
    // Disk plus strip less their common part: twice the strip of half width 3 in the disk.
    const double common = 100 * pi - 2 * segment_area(10, std::acos(0.3));
    CHECK(area(loops) == close_to(100 * pi + 360 - common));
}

TEST_CASE("splines") {
    // The cubic from (0,0) over poles (10,20), (30,20) to (40,0): y = 60 t (1 - t), and
    // x(1 - t) = 40 - x(t). Area under it by Green's theorem on the Bernstein form:
    // 3/20 sum of cross products, here 480 (checked against the integral of y dx below).
    const Curve hump = cubic({0, 0}, {10, 20}, {30, 20}, {40, 0});
    double integral = 0.0;
    const int steps = 200000;
    for (int i = 0; i < steps; ++i) {
        const double t = (i + 0.5) / steps;
        integral += 60 * t * (1 - t) * derivative_at(hump, t).x() / steps;
    }
    Shapes shapes;
    shapes.chain({Line{{0, 0}, {40, 0}}, reversed(hump)});
    SUBCASE("alone") {
        const std::vector<Loop> loops = arrange(shapes.input());
        REQUIRE(loops.size() == 1);
        check_sound(loops);
        CHECK(loops[0].curves.size() == 2);
        CHECK(area(loops) == close_to(integral));
    }
    SUBCASE("cut in the middle by a line") {
        shapes.rectangle(-10, -10, 20, 50, 1);
        Options options;
        options.inside = both;
        const std::vector<Loop> loops = arrange(shapes.input(), options);
        REQUIRE(loops.size() == 1);
        check_sound(loops);
        CHECK(loops[0].curves.size() == 3);
        CHECK(area(loops) == close_to(integral / 2));
    }
    SUBCASE("cut at half its height") {
        // y = 7.5 at t = 1/2 -+ sqrt(1/8): 60 t (1 - t) = 7.5.
        const double t = 0.5 - std::sqrt(0.125);
        shapes.rectangle(-10, 7.5, 50, 50, 1);
        Options options;
        options.inside = both;
        const std::vector<Loop> loops = arrange(shapes.input(), options);
        REQUIRE(loops.size() == 1);
        check_sound(loops);
        CHECK(loops[0].curves.size() == 2);
        double cap = 0.0;
        for (int i = 0; i < steps; ++i) {
            const double s = t + (1 - 2 * t) * (i + 0.5) / steps;
            cap += (60 * s * (1 - s) - 7.5) * derivative_at(hump, s).x() * (1 - 2 * t) / steps;
        }
        CHECK(area(loops) == close_to(cap));
    }
    SUBCASE("the same spline from both sides cancels") {
        shapes.chain(
            {hump, Line{{40, 0}, {40, 50}}, Line{{40, 50}, {0, 50}}, Line{{0, 50}, {0, 0}}});
        const std::vector<Loop> loops = arrange(shapes.input());
        REQUIRE(loops.size() == 1);
        check_sound(loops);
        CHECK(loops[0].curves.size() == 4);
        CHECK(area(loops) == close_to(2000));
    }
}

TEST_CASE("a closed spline") {
    const Curve blob =
        cubic_spline({{10, 0}, {10, 9}, {0, 14}, {-12, 6}, {-9, -8}, {2, -11}, {10, -9}, {10, 0}});
    const double whole = swept_area(blob);
    SUBCASE("alone") {
        const std::vector<Loop> loops = arrange(Shapes().chain({blob}).input());
        REQUIRE(loops.size() == 1);
        CHECK(loops[0].curves.size() == 1);
        CHECK(area(loops) == close_to(whole));
    }
    SUBCASE("halved, the halves add up") {
        const Input input = Shapes().chain({blob}).rectangle(-50, 1, 50, 50, 1).input();
        Options options;
        options.inside = both;
        const std::vector<Loop> upper = arrange(input, options);
        options.inside = first_only;
        const std::vector<Loop> lower = arrange(input, options);
        check_sound(upper);
        check_sound(lower);
        CHECK(count_curves(upper) == 2);
        CHECK(count_curves(lower) == 3);  // its own seam stays a corner
        CHECK(area(upper) + area(lower) == close_to(whole));
    }
    SUBCASE("twice, the second time the other way: nothing is left") {
        const Input input = Shapes().chain({blob}).chain({reversed(blob)}).input();
        CHECK(arrange(input).empty());
    }
    SUBCASE("an outline that crosses itself") {
        const Curve eight = cubic_spline(
            {{0, 0}, {14, 12}, {20, -3}, {12, -12}, {-12, 12}, {-20, 3}, {-14, -12}, {0, 0}});
        Options options;
        options.inside = [](const Winding& w) { return w[0] != 0; };
        const std::vector<Loop> loops = arrange(Shapes().chain({eight}).input(), options);
        check_sound(loops);
        CHECK(loops.size() == 2);
        const std::vector<Loop> positive = arrange(Shapes().chain({eight}).input());
        check_sound(positive);
        CHECK(positive.size() == 1);
        options.inside = [](const Winding& w) { return w[0] < 0; };
        const std::vector<Loop> negative = arrange(Shapes().chain({eight}).input(), options);
        check_sound(negative);
        CHECK(area(positive) - area(negative) == close_to(swept_area(eight)));
    }
}

}  // namespace
}  // namespace planform::arrange::test
