/// Sets whose offsets were once wrong, each with why; and the causes by themselves.

#include <doctest/doctest.h>

#include <random>

#include "offset/cases.hpp"
#include "offset/halting_ends.hpp"
#include "offset/judge.hpp"
#include "offset/laws.hpp"
#include "offset/separation.hpp"
#include "planform/offset.hpp"

using namespace planform;

namespace {

std::vector<Curve> square(const Point2& center, double half) {
    const Point2 a = center + Vector2(-half, -half), b = center + Vector2(half, -half),
                 c = center + Vector2(half, half), d = center + Vector2(-half, half);
    return {Line{a, b}, Line{b, c}, Line{c, d}, Line{d, a}};
}

/// A loop that starts with a spline whose first span turns back on the spot, away from where
/// halvings come.
std::vector<Curve> loop_with_reversal() {
    const Spline spline{2, {0, 0, 0, 1, 2, 2, 2}, {{0, 0}, {3, 0}, {-2, 0}, {10, 10}}, {}};
    return {spline, Line{{10, 10}, {10, -10}}, Line{{10, -10}, {0, 0}}};
}

void check_distances(const ProfileSet& set, double distance) {
    CAPTURE(distance);
    const judge::Verdict verdict =
        judge::examine(set, distance, offset(set, distance).profiles, 12, 60);
    CAPTURE(verdict.where.x());
    CAPTURE(verdict.where.y());
    CHECK(verdict.grid > 1000);
    CHECK(verdict.wrong == 0);
    CHECK(verdict.worst_exact <= 1e-9);
    CHECK(verdict.worst_corner <= 2e-6);
    CHECK(verdict.worst_fitted <= 0.1 * set.tolerance());
}

}  // namespace

TEST_CASE("what follows a reversal on the spot is not forgotten when loops are told apart") {
    for (const bool reversal_first : {true, false}) {
        offset_detail::LoopField field(1e-6);
        const std::vector<Curve> across = square({1.625, 2.5}, 0.5);
        if (!reversal_first) field.add_loop(across, true);
        field.add_loop(loop_with_reversal(), true);
        if (reversal_first) field.add_loop(across, true);
        field.add_loop(square({-20.0, 0.0}, 1.0), true);
        field.tell_apart();
        CHECK(field.group(0) == field.group(1));
        CHECK(field.group(2) == 2);
        CHECK(!field.is_simple(reversal_first ? 0 : 1));
    }
}

TEST_CASE("a bend that is slowest just behind a knot is not passed over") {
    // Both bends are far tighter than the distance, and lie within a tenth of a piece of its start.
    const Spline before{3,
                        {0, 0, 0, 0, 1, 1, 1, 1},
                        {{34.0954180568033, 73.9111478987062},
                         {34.154554615034, 74.8358357517543},
                         {34.3731594674786, 77.3518979428163},
                         {34.3573035905928, 77.4480052083745}},
                        {}};
    const Spline after{3,
                       {0, 0, 0, 0, 1, 1, 1, 1},
                       {{34.3573035905928, 77.4480052083745},
                        {34.3414477137069, 77.5441124739327},
                        {34.0911311074907, 75.2202648139872},
                        {33.999561040029, 74.6312038760153}},
                       {}};
    const Contour tip({before, after, Line{{33.999561040029, 74.6312038760153}, {33.9, 73.9}},
                       Line{{33.9, 73.9}, {34.0954180568033, 73.9111478987062}}});
    const ProfileSet set({Profile(tip, {})});
    for (const double distance : {0.00224, -0.00224}) check_distances(set, distance);
}

TEST_CASE("a hole that grows beyond its profile cuts it in two: a spline's parallel has cusps") {
    check_distances(cases::random_case(125).set, -4.8837);
}

TEST_CASE("lines stay on their parallel where a spline ends that all but touches them") {
    // The parallel of the thin ellipse's tip passes the end of the line's at 9e-7 mm.
    const Point2 b(34.393372810980026, -58.52856305283893),
        c(35.01709563531894, -56.04221764337988), d(36.58385174072895, -57.38557888420124);
    const Contour hole({EllipticalArc{{35.7194024054165, -58.949800567590515},
                                      {1.3260295944364766, -0.4212375147515848},
                                      0.03744479574428321,
                                      2 * pi,
                                      -pi},
                        Line{b, c}, Line{c, d},
                        EllipticalArc{{36.81464187029096, -58.37830848327167},
                                      {-0.23079012956201317, 0.9927295990704283},
                                      0.09670990129559591,
                                      2 * pi,
                                      -pi}});
    const Contour disc({Arc{{40.0, -60.0}, 60.0, 0.0, 2 * pi}});
    check_distances(ProfileSet({Profile(disc, {hole})}), -0.0123834);
}

TEST_CASE("lines stay on their parallel where the arc beside them ends a little off their end") {
    // A long hole whose ends are as drawn: half circles that miss the lines by `miss` mm, more than
    // rounding and less than what a contour allows. Alone the loop is the result as it is; with a
    // hole that it grows into it goes through the arrangement.
    for (const double miss : {2e-9, 2e-8, 1.5e-7})
        for (const bool merges : {false, true}) {
            CAPTURE(miss);
            CAPTURE(merges);
            const Contour sheet(
                {Line{{-60.0, -40.0}, {90.0, -40.0}}, Line{{90.0, -40.0}, {90.0, 40.0}},
                 Line{{90.0, 40.0}, {-60.0, 40.0}}, Line{{-60.0, 40.0}, {-60.0, -40.0}}});
            const Contour slot(
                {Line{{0.0, 5.0}, {30.0, 5.0}}, Arc{{30.0, miss}, 5.0, 0.5 * pi, -pi},
                 Line{{30.0, -5.0}, {0.0, -5.0}}, Arc{{0.0, miss}, 5.0, -0.5 * pi, -pi}});
            std::vector<Contour> holes{slot};
            if (merges) holes.push_back(Contour({Arc{{15.0, 12.0}, 3.0, pi, -2.0 * pi}}));
            const ProfileSet set({Profile(sheet, holes)});
            for (const double distance : {3.0, -3.0}) check_distances(set, distance);
        }
}

TEST_CASE("a bend as tight as rounding and a side as flat as it are opened and closed") {
    // A cubic of 8.5 mm goes to and fro by some 1e-5 mm, 1e-9 mm aside, where it becomes straight:
    // normals are known to four digits in its bends.
    const Spline wavering{3,
                          {0, 0, 0, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 14, 14, 14},
                          {{174.0596, 94.0054},
                           {174.05, 94.6},
                           {173.4, 95.05},
                           {172.9, 95.05},
                           {171.95, 95.02},
                           {171.91, 94.4},
                           {171.90374172, 94.0053},
                           {171.9037416925, 94.0049897},
                           {171.903741677, 94.00486},
                           {171.9037416756, 94.0048246},
                           {171.90374167453, 94.0047675},
                           {171.90374167535, 94.0048040},
                           {171.90374167532, 94.0047754},
                           {171.90374167535, 94.0046},
                           {171.90374167535, 93.7},
                           {171.90374167535, 91.5},
                           {171.90374167535, 88.8}},
                          {}};
    const Contour arch({wavering, Line{{171.90374167535, 88.8}, {174.0596, 88.8}},
                        Line{{174.0596, 88.8}, {174.0596, 94.0054}}});
    // Half an ellipse of 28 mm that is 2e-6 mm high: 4.6e-5 mm^2.
    const Contour tray({EllipticalArc{{-14.0, 0.0}, {14.0, 0.0}, 1.5e-7, pi, pi},
                        Line{{0.0, 0.0}, {0.0, 4.0}}, Line{{0.0, 4.0}, {-28.0, 4.0}},
                        Line{{-28.0, 4.0}, {-28.0, 0.0}}});
    for (const Contour& contour : {arch, tray}) {
        const ProfileSet set({Profile(contour, {})});
        for (const double radius : {0.0044, 4.0, 7.36}) {
            CAPTURE(radius);
            // Both are convex but for that: closing adds nothing to speak of.
            CHECK(std::abs(closed(set, radius).profiles.area() - set.area()) < 1e-4);
            CHECK(opened(set, radius).profiles.area() < set.area());
        }
    }
}

TEST_CASE("sets of which opening or closing once failed") {
    // 277: a circle as small as the corner that it rounds, and a corner that came out a turn away.
    // 415: a spline that ends in the cusp of its evolute; its way back followed rounding until
    // memory ran out.
    for (const int seed : {277, 415}) {
        CAPTURE(seed);
        laws::opening_and_closing(cases::random_case(seed));
    }
}

TEST_CASE("a circle that misses a bend's end by a trace does not meet its other end instead") {
    const auto cubic = [](const std::vector<Point2>& poles) {
        return Spline{3, {0, 0, 0, 0, 1, 1, 1, 1}, poles, {}};
    };
    // From a random set: the tightest of these bends takes a circle of 0.00224 mm that misses what
    // is left of it by 2e-8 mm.
    const Point2 a(29.7026065, 68.0913989), b(30.0924746, 67.8940599), c(29.4201647, 68.0936059),
        d(30.4747899, 67.6819982), e(30.56, 68.77);
    const Contour contour({cubic({a, {29.8798752, 68.006545}, {30.216328, 67.866164}, b}),
                           cubic({b, {29.9686212, 67.9219558}, {29.3844615, 68.1181286}, c}),
                           cubic({c, {29.4558679, 68.0690832}, {30.111434, 67.823865}, d}),
                           Line{d, e}, Line{e, a}});
    const ProfileSet set({Profile(contour, {})});
    const double more = closed(set, 0.0022444).profiles.area() - set.area();
    CHECK(more > 0.0);
    CHECK(more < 1e-5);
    CHECK(opened(set, 0.0022444).profiles.area() < set.area());
}

TEST_CASE("slots as wide as the tool, drawn with few digits, are closed") {
    // Their legs fill or stay as hairlines, as the digits have it; where they meet, what is left
    // ends in cusps that overlap by a trace.
    std::mt19937 random(5);
    std::uniform_real_distribution<double> any(0.0, 1.0);
    const Contour sheet({Line{{-80, -80}, {80, -80}}, Line{{80, -80}, {80, 80}},
                         Line{{80, 80}, {-80, 80}}, Line{{-80, 80}, {-80, -80}}});
    for (int i = 0; i < 120; ++i) {
        const double radius = 0.5 + 3.0 * any(random), leg = radius * (4.0 + 10.0 * any(random));
        const double unit = i % 2 == 0 ? 1e-5 : 1e-6;
        const Eigen::Rotation2Dd turn(pi * any(random));
        std::vector<Point2> corners{{0, -radius},       {-leg, -radius}, {-leg, radius},
                                    {leg, radius},      {leg, -radius},  {2 * radius, -radius},
                                    {2 * radius, -leg}, {0, -leg}};
        for (Point2& corner : corners)
            corner = unit * (turn * corner / unit).array().round().matrix();
        std::vector<Curve> walls;
        for (std::size_t k = 0; k < corners.size(); ++k)
            walls.push_back(Line{corners[k], corners[(k + 1) % corners.size()]});
        const ProfileSet set({Profile(sheet, {Contour(walls)})});
        CAPTURE(i);
        const double area = closed(set, radius).profiles.area();
        CHECK(area > set.area());
        CHECK(area < 160.0 * 160.0 + 1e-6);
    }
}

TEST_CASE("a spline that comes to a halt goes straight where rounding decides its direction") {
    // c(t) = (t^2, t^3) + (50, 80) in Bernstein form: a cusp at its start, where |c'| = 2 t. The
    // coordinates are rounded to 1.4e-14 mm.
    const Vector2 place(50.0, 80.0);
    const Spline halts{3,
                       {0, 0, 0, 0, 1, 1, 1, 1},
                       {place, place, place + Vector2(1.0 / 3.0, 0.0), place + Vector2(1.0, 1.0)},
                       {}};
    constexpr double bound = 1e-7;
    const std::vector<Curve> parts = offset_detail::with_straight_halts(halts, 5.0, bound);
    REQUIRE(parts.size() == 2);
    const Line* straight = std::get_if<Line>(&parts[0]);
    REQUIRE(straight != nullptr);
    CHECK(straight->start == place);
    CHECK(straight->end == start_point(parts[1]));
    const double long_is = (straight->end - straight->start).norm();
    CHECK(long_is > 0.0);
    CHECK(long_is <= bound);
    CHECK(end_point(parts[1]) == end_point(halts));
    // Where nothing moves or it never halts, it stays as it is.
    CHECK(offset_detail::with_straight_halts(halts, 0.0, bound) == std::vector<Curve>{halts});
    Spline steady = halts;
    steady.poles[1] = place + Vector2(0.1, 0.0);
    CHECK(offset_detail::with_straight_halts(steady, 5.0, bound) == std::vector<Curve>{steady});
    // Seen from its end.
    const std::vector<Curve> back =
        offset_detail::with_straight_halts(std::get<Spline>(reversed(Curve(halts))), -5.0, bound);
    REQUIRE(back.size() == 2);
    CHECK(std::get<Line>(back[1]).end == place);
}
