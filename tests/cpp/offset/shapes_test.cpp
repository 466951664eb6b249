/// Shapes on which offsets on chords go wrong: half turns, slivers, spikes, cusps, redundant
/// points; and necks, holes and distances at which something changes in kind.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <utility>
#include <vector>

#include "offset/judge.hpp"
#include "planform/boolean.hpp"
#include "planform/error.hpp"
#include "planform/offset.hpp"
#include "profile/outlines.hpp"

using namespace planform;

namespace {

/// Spikes, slits and loops are no sound contours: they are taken as they are.
Contour as_it_is(std::vector<Curve> curves) { return Contour(std::move(curves), {}, Validate::no); }

ProfileSet set_as_it_is(Contour outer, std::vector<Contour> holes = {}) {
    return ProfileSet({Profile(std::move(outer), std::move(holes), {}, -1, Validate::no)}, {},
                      Datum::xy(), 0.01, {}, {}, Validate::no);
}

ProfileSet polygon(const std::vector<Point2>& corners) {
    return set_as_it_is(as_it_is(outlines::polygon(corners)));
}

/// A spline of degree 3 over one span.
Curve bezier(const Point2& a, const Point2& b, const Point2& c, const Point2& d) {
    return Spline{3, {0, 0, 0, 0, 1, 1, 1, 1}, {a, b, c, d}, {}};
}

/// The set as what it encloses, for the judge: overlaps and doubled lines resolved.
ProfileSet resolved(const ProfileSet& set) { return united(set, ProfileSet()); }

struct Shape {
    std::string name;
    ProfileSet set;
};

std::vector<Shape> shapes() {
    std::vector<Shape> all;
    const auto add = [&](std::string name, ProfileSet set) {
        all.push_back({std::move(name), std::move(set)});
    };
    add("a line out and back",
        polygon({{0, 0}, {20, 0}, {20, 10}, {35, 10}, {20, 10}, {20, 20}, {0, 20}}));
    add("a slit in and back",
        polygon({{0, 0}, {20, 0}, {20, 10}, {5, 10}, {20, 10}, {20, 20}, {0, 20}}));
    add("a sliver", polygon({{0, 0}, {50, 0}, {50, 0.02}}));
    add("a sliver on a plate",
        polygon({{0, 0}, {20, 0}, {20, 9}, {60, 9.99}, {20, 10}, {20, 20}, {0, 20}}));
    add("a narrow notch",
        polygon({{0, 0}, {20, 0}, {20, 9}, {3, 9.99}, {20, 10}, {20, 20}, {0, 20}}));
    add("redundant points", polygon({{0, 0},
                                     {5, 0},
                                     {5.0001, 0},
                                     {10, 0},
                                     {20, 0},
                                     {20, 20},
                                     {20, 20.0000001},
                                     {0, 20.0000001}}));
    add("collinear but for rounding",
        polygon({{0, 0}, {7, 1e-12}, {13, -1e-12}, {20, 0}, {20, 20}, {0, 20}}));
    std::vector<Point2> saw{{0, -5}};
    for (int i = 0; i < 40; ++i) {
        saw.push_back({0.5 * i, 0});
        saw.push_back({0.5 * i + 0.25, 6.0 + i % 3});
    }
    saw.push_back({20, -5});
    std::reverse(saw.begin(), saw.end());
    add("saw teeth", polygon(saw));
    std::vector<Point2> star;
    for (int i = 0; i < 36; ++i) {
        const double radius = i % 2 ? 2.0 : 25.0, angle = 2 * pi * i / 36;
        star.push_back({radius * std::cos(angle), radius * std::sin(angle)});
    }
    add("needles all round", polygon(star));
    add("crossed in an 8", polygon({{0, 0}, {20, 20}, {20, 0}, {0, 20}}).profiles().empty()
                               ? ProfileSet()
                               : polygon({{0, 0}, {24, 20}, {20, 0}, {0, 20}}));
    add("cusp outward", set_as_it_is(as_it_is({Line{{0, 0}, {10, -10}}, Line{{10, -10}, {20, 0}},
                                               Arc{{20, 10}, 10, -pi / 2, -pi / 2},
                                               Arc{{0, 10}, 10, 0, -pi / 2}})));
    add("cusp inward",
        set_as_it_is(as_it_is({Line{{-20, -20}, {20, -20}}, Line{{20, -20}, {20, 0}},
                               Arc{{20, 10}, 10, -pi / 2, -pi / 2}, Arc{{0, 10}, 10, 0, -pi / 2},
                               Line{{0, 0}, {-20, 0}}, Line{{-20, 0}, {-20, -20}}})));
    add("touching rounds",
        ProfileSet({Profile(outlines::circle({0, 0}, 5)), Profile(outlines::circle({10, 0}, 5))}));
    add("holes that touch",
        set_as_it_is(outlines::rectangle(-10, -10, 40, 20),
                     {outlines::circle({0, 0}, 5), outlines::circle({10, 0}, 5)}));
    add("a hole that touches the outside",
        set_as_it_is(outlines::rectangle(-10, -5, 40, 20), {outlines::circle({0, 0}, 5)}));
    add("a spline with a tight bend",
        set_as_it_is(
            as_it_is({bezier({0, 0}, {30, 25}, {-10, 25}, {20, 0}), Line{{20, 0}, {20, -10}},
                      Line{{20, -10}, {0, -10}}, Line{{0, -10}, {0, 0}}})));
    add("a spline with a cusp",
        set_as_it_is(as_it_is({Line{{20, -10}, {20, 0}}, bezier({20, 0}, {0, 20}, {20, 20}, {0, 0}),
                               Line{{0, 0}, {0, -10}}, Line{{0, -10}, {20, -10}}})));
    add("a dent of a spline",
        set_as_it_is(
            as_it_is({Line{{0, 0}, {30, 0}}, Line{{30, 0}, {30, 20}}, Line{{30, 20}, {25, 20}},
                      bezier({25, 20}, {16, 20}, {16, 2}, {15, 2}),
                      bezier({15, 2}, {14, 2}, {14, 20}, {5, 20}), Line{{5, 20}, {0, 20}},
                      Line{{0, 20}, {0, 0}}})));
    add("a thin ellipse",
        set_as_it_is(as_it_is({EllipticalArc{{0, 0}, {20, 0}, 0.01, 0.3, 2 * pi}})));
    add("a thin elliptic hole",
        set_as_it_is(outlines::rectangle(-30, -10, 60, 20),
                     {Contour({EllipticalArc{{0, 0}, {20, 0}, 0.02, 0, 2 * pi}})}));
    add("a C that closes",
        set_as_it_is(as_it_is({Arc{{0, 0}, 10, 0.1, 2 * pi - 0.2},
                               Line{{10 * std::cos(0.1), -10 * std::sin(0.1)},
                                    {7 * std::cos(0.1), -7 * std::sin(0.1)}},
                               Arc{{0, 0}, 7, -0.1, -(2 * pi - 0.2)},
                               Line{{7 * std::cos(0.1), 7 * std::sin(0.1)},
                                    {10 * std::cos(0.1), 10 * std::sin(0.1)}}})));
    add("two bars and a neck", polygon({{0, 0},
                                        {10, 0},
                                        {10, 4.5},
                                        {20, 4.5},
                                        {20, 0},
                                        {30, 0},
                                        {30, 10},
                                        {20, 10},
                                        {20, 5.5},
                                        {10, 5.5},
                                        {10, 10},
                                        {0, 10}}));
    add("islands in a hole",
        ProfileSet({Profile(outlines::rectangle(0, 0, 40, 40), {outlines::rectangle(5, 5, 30, 30)}),
                    Profile(outlines::rectangle(8, 8, 8, 8), {}, "", 0),
                    Profile(outlines::rectangle(17, 8, 8, 8), {}, "", 0)}));
    return all;
}

}  // namespace

TEST_CASE("shapes with spikes, half turns, slivers and cusps") {
    int seen = 0;
    for (const Shape& shape : shapes()) {
        CAPTURE(shape.name);
        const ProfileSet set = resolved(shape.set);
        for (const double d :
             {0.001, 0.01, 0.1, 0.5, 1.0, 3.0, 12.0, -0.001, -0.01, -0.1, -0.5, -1.0, -3.0}) {
            CAPTURE(d);
            const judge::Verdict verdict =
                judge::examine(set, d, offset(shape.set, d).profiles, 10, 30);
            CHECK(verdict.wrong == 0);
            CHECK(verdict.worst_exact <= 1e-9);
            CHECK(verdict.worst_corner <= 2e-6);
            CHECK(verdict.worst_fitted <= 0.1 * set.tolerance());
            seen += verdict.grid;
        }
        const ProfileSet turned = [&] {
            Transform2 motion{Eigen::Rotation2Dd(0.7)};
            motion.pretranslate(Vector2(1000.0, -700.0));
            return shape.set.transformed(motion);
        }();
        const judge::Verdict verdict =
            judge::examine(resolved(turned), 0.4, offset(turned, 0.4).profiles, 10, 30);
        CHECK(verdict.wrong == 0);
        CHECK(verdict.worst_exact <= 1e-9);
    }
    CHECK(seen > 20 * 13 * 500);
}

TEST_CASE("what changes in kind is said, with its place and width") {
    const ProfileSet plate = set_as_it_is(
        outlines::rectangle(0, 0, 60, 30),
        {outlines::circle({10, 10}, 0.4),
         Contour(outlines::slot(20, 3)).transformed(Transform2(Eigen::Translation2d(20, 15)))});
    const Allowed grown = offset(plate, 0.5);
    REQUIRE(grown.findings.size() == 1);
    CHECK(grown.findings[0].rule == RuleKind::contour_gone);
    CHECK(grown.findings[0].contour == 1);
    CHECK((grown.findings[0].place - Point2(10, 10)).norm() < 1e-9);
    CHECK(grown.findings[0].measured.value() == doctest::Approx(0.8).epsilon(1e-9));
    CHECK(grown.profiles.notes().size() == 1);
    CHECK(offset(plate, 0.3).findings.empty());

    const ProfileSet bars = polygon({{0, 0},
                                     {10, 0},
                                     {10, 4.5},
                                     {20, 4.5},
                                     {20, 0},
                                     {30, 0},
                                     {30, 10},
                                     {20, 10},
                                     {20, 5.5},
                                     {10, 5.5},
                                     {10, 10},
                                     {0, 10}});
    const Allowed parted = offset(bars, -0.6);
    REQUIRE(parted.findings.size() == 1);
    CHECK(parted.findings[0].rule == RuleKind::split);
    CHECK(parted.findings[0].measured.value() == doctest::Approx(1.0).epsilon(1e-9));
    CHECK(parted.profiles.profiles().size() == 2);

    const ProfileSet pair(
        {Profile(outlines::circle({0, 0}, 5)), Profile(outlines::rectangle(6, -5, 10, 10))});
    const Allowed joined = offset(pair, 0.7);
    REQUIRE(joined.findings.size() == 1);
    CHECK(joined.findings[0].rule == RuleKind::merged);
    CHECK(joined.findings[0].measured.value() == doctest::Approx(1.0).epsilon(1e-9));
    CHECK(joined.profiles.profiles().size() == 1);

    const Allowed nothing = offset(pair, -6.0);
    CHECK(nothing.profiles.empty());
    REQUIRE(nothing.findings.size() == 3);
    CHECK(nothing.findings[0].text.find("nothing") != std::string::npos);
}

TEST_CASE("the width of what is gone is that of the medial axis") {
    Transform2 motion{Eigen::Rotation2Dd(0.4)};
    motion.pretranslate(Vector2(3.0, -7.0));
    const std::vector<Contour> holes{Contour(outlines::slot(10, 2)).transformed(motion),
                                     outlines::rectangle(-4, -9, 8, 3).transformed(motion),
                                     outlines::circle({8, 9}, 1.75)};
    for (const Contour& hole : holes)
        for (const bool rotated : {false, true}) {
            std::vector<Curve> curves = hole.curves();
            if (rotated) std::rotate(curves.begin(), curves.begin() + 1, curves.end());
            const ProfileSet plate =
                set_as_it_is(outlines::rectangle(-30, -30, 60, 60), {Contour(curves)});
            const std::vector<Finding> found = offset(plate, 2.5).findings;
            const std::vector<NarrowPlace> places =
                narrow_places(set_as_it_is(Contour(curves)), 6.0);
            REQUIRE(found.size() == 1);
            REQUIRE(places.size() == 1);
            CHECK(found[0].measured.value() == doctest::Approx(places[0].width).epsilon(1e-9));
            CHECK((found[0].place - places[0].center).norm() < 1e-6);
            CHECK((found[0].points.at(1) - found[0].points.at(0)).norm() ==
                  doctest::Approx(places[0].width).epsilon(1e-9));
        }
}

TEST_CASE("numbers that make no sense") {
    const ProfileSet set = set_as_it_is(outlines::rectangle(0, 0, 10, 10));
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const double infinity = std::numeric_limits<double>::infinity();
    for (const double bad : {nan, infinity, -infinity}) {
        CHECK_THROWS_AS(offset(set, bad), GeometryError);
        CHECK_THROWS_AS(closed(set, bad), GeometryError);
        CHECK_THROWS_AS(relieved(set, bad), GeometryError);
        CHECK_THROWS_AS(offset(set, 1.0, {Corners::sharp, bad}), GeometryError);
    }
    CHECK_THROWS_AS(offset(set, 1.0, {Corners::sharp, 0.9}), GeometryError);
    for (const double bad : {0.0, -1.0}) {
        CHECK_THROWS_AS(opened(set, bad), GeometryError);
        CHECK_THROWS_AS(relieved(set, bad), GeometryError);
    }
    CHECK(offset(set, 0.0).profiles.digest() == set.digest());
    CHECK(offset(ProfileSet(), 1.0).profiles.empty());
}

TEST_CASE("what a round tool leaves") {
    const ProfileSet hole =
        set_as_it_is(outlines::rectangle(0, 0, 40, 40), {outlines::rectangle(10, 10, 20, 20)});
    const Allowed result = closed(hole, 3.0);
    REQUIRE(result.findings.size() == 4);
    for (const Finding& finding : result.findings) {
        CHECK(finding.rule == RuleKind::unreached);
        CHECK(finding.measured.value() == doctest::Approx(9.0 * (1 - pi / 4)).epsilon(1e-6));
        CHECK(finding.unit == "mm^2");
    }
    CHECK(result.profiles.area() ==
          doctest::Approx(hole.area() + 36.0 * (1 - pi / 4)).epsilon(1e-12));
    const Allowed other = opened(hole, 3.0);
    REQUIRE(other.findings.size() == 4);
    CHECK(other.profiles.area() ==
          doctest::Approx(hole.area() - 36.0 * (1 - pi / 4)).epsilon(1e-12));
    CHECK(opened(hole, 6.0).profiles.empty());
}

TEST_CASE("opening and closing leave curves that the tool reaches as they were") {
    // A hole of elliptical arcs and a plate with a wave of splines: no fits of fits, however often.
    const Contour ellipse({EllipticalArc{{10, 10}, {6, 0}, 0.6, 0.2, 2 * pi}});
    const Contour wavy =
        as_it_is({Line{{-20, -20}, {40, -20}}, Line{{40, -20}, {40, 40}},
                  bezier({40, 40}, {20, 55}, {0, 25}, {-20, 40}), Line{{-20, 40}, {-20, -20}}});
    ProfileSet set = set_as_it_is(wavy, {ellipse.reversed()});
    const double area = set.area();
    for (int round = 0; round < 3; ++round) {
        set = opened(closed(set, 1.5).profiles, 1.5).profiles;
        REQUIRE(set.profiles().size() == 1);
        int splines = 0;
        for (const Contour& contour : {set.profiles()[0].outer(), set.profiles()[0].holes().at(0)})
            for (const Curve& curve : contour.curves())
                if (const Spline* spline = std::get_if<Spline>(&curve)) {
                    CHECK(spline->degree == 3);
                    CHECK(spline->poles.size() == 4);
                    ++splines;
                }
        CHECK(splines == 1);
        CHECK(set.profiles()[0].holes()[0].curves()[0].index() == 2);
        // Only the sharp corners outside are rounded.
        CHECK(set.area() < area);
        CHECK(set.area() > area - 4 * 1.5 * 1.5 * (1 - pi / 4) - 1.0);
    }
}
