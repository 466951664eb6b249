/// Blanks with a closed form: length = walls + angle (radius + K thickness).

#include <doctest/doctest.h>

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <cmath>
#include <functional>

#include "planform/features.hpp"
#include "unfold/sheets.hpp"

using namespace planform;
using sheets::Flange;

namespace {

using sheets::degree;

void check_strip(double thickness, double k_factor, double first, const std::vector<Flange>& rest) {
    constexpr double width = 37.5;
    const Blank blank = sheets::unfolded(sheets::strip(thickness, width, first, rest), k_factor);
    const double expected = sheets::strip_length(thickness, k_factor, first, rest);
    CAPTURE(thickness);
    CAPTURE(rest.front().angle / degree);
    CAPTURE(rest.front().radius);
    CHECK(blank.thickness == doctest::Approx(thickness).epsilon(1e-12));
    REQUIRE(blank.outline.profiles().size() == 1);
    const Vector2 sizes = blank.outline.bounds().sizes();
    const double longer = std::max(sizes.x(), sizes.y()), shorter = std::min(sizes.x(), sizes.y());
    CHECK(std::abs(longer - std::max(expected, width)) < 1e-9 * expected);
    CHECK(std::abs(shorter - std::min(expected, width)) < 1e-9 * expected);
    CHECK(std::abs(blank.outline.area() - expected * width) < 1e-9 * expected * width);
    CHECK(blank.outline.profiles().front().outer().curves().size() == 4);
    REQUIRE(blank.bends.size() == rest.size());
    std::vector<bool> found(rest.size(), false);
    for (const Bend& bend : blank.bends) {
        CHECK(bend.length() == doctest::Approx(width).epsilon(1e-9));
        for (std::size_t i = 0; i < rest.size(); ++i) {
            if (found[i] || std::abs(bend.angle - rest[i].angle) > 1e-9 ||
                std::abs(bend.inside_radius - rest[i].radius) > 1e-9)
                continue;
            found[i] = true;
            CHECK(bend.allowance ==
                  doctest::Approx(rest[i].angle * (rest[i].radius + k_factor * thickness))
                      .epsilon(1e-9));
            break;
        }
    }
    CHECK(std::count(found.begin(), found.end(), true) == static_cast<long>(rest.size()));
}

}  // namespace

TEST_CASE("a strip with one bend of any angle, radius and thickness") {
    int count = 0;
    for (const double angle : {5.0, 30.0, 89.9, 90.0, 120.0, 175.0})
        for (const double radius : {0.0, 0.2, 3.0, 20.0})
            for (const double thickness : {0.5, 2.0, 10.0}) {
                // Walls long enough that the far one does not run into the near one.
                const double wall = 30.0 + 2.0 * radius;
                check_strip(thickness, count % 2 == 0 ? 0.44 : 0.33, wall,
                            {{angle * degree, count % 3 != 0, radius, wall + 7.0}});
                ++count;
            }
    CHECK(count == 72);
}

TEST_CASE("U, Z and hat sections") {
    for (const double radius : {0.0, 1.5, 8.0}) {
        const double a = 90.0 * degree;
        check_strip(1.5, 0.4, 25.0, {{a, true, radius, 40.0}, {a, true, radius, 25.0}});
        check_strip(1.5, 0.4, 25.0, {{a, true, radius, 40.0}, {a, false, radius, 25.0}});
        check_strip(1.5, 0.4, 25.0,
                    {{a, true, radius, 40.0},
                     {a, false, radius, 50.0},
                     {a, false, radius + 0.5, 40.0},
                     {a, true, radius + 0.5, 25.0}});
        check_strip(1.5, 0.4, 25.0, {{1.0, true, radius, 40.0}, {0.7, false, radius, 25.0}});
    }
}

TEST_CASE("U, Z and hat sections of any angle") {
    for (const double degrees : {5.0, 45.0, 120.0, 175.0})
        for (const double radius : {0.0, 0.7, 8.0}) {
            const double a = degrees * degree;
            // Walls of a U above a right angle lean towards each other: up to the middle.
            const double wall = degrees < 150.0 ? 25.0 : 12.0;
            check_strip(1.5, 0.4, 60.0, {{a, true, radius, 40.0}, {a, false, radius, 25.0}});
            check_strip(0.5, 0.4, wall,
                        {{a, true, radius, 60.0 + 4.0 * radius}, {a, true, radius, wall}});
            if (degrees < 150.0)
                check_strip(2.5, 0.35, 30.0,
                            {{a, true, radius, 40.0},
                             {a, false, radius, 70.0 + 4.0 * radius},
                             {a, false, radius + 0.5, 40.0},
                             {a, true, radius + 0.5, 25.0}});
        }
}

TEST_CASE("bends that follow each other without a wall between") {
    check_strip(1.0, 0.45, 20.0, {{0.8, true, 4.0, 0.0}, {0.8, false, 6.0, 30.0}});
    check_strip(1.0, 0.45, 20.0, {{0.8, true, 4.0, 0.0}, {0.5, true, 9.0, 30.0}});
}

TEST_CASE("an open hem of a half turn") { check_strip(1.0, 0.42, 40.0, {{pi, true, 0.8, 9.0}}); }

TEST_CASE("a box of four flanges of any angle with corner reliefs") {
    const double k = 0.4;
    for (const double angle : {5.0, 60.0, 90.0, 130.0, 175.0})
        for (const double t : {0.5, 1.5, 6.0})
            for (const double r : {0.5, 2.0, 20.0}) {
                CAPTURE(angle);
                CAPTURE(t);
                CAPTURE(r);
                // Flanges that lean inwards keep clear of each other.
                const double relief = angle > 90.0 ? 30.0 + t : 4.0;
                const double wall = angle > 90.0 ? 15.0 : 20.0 + t;
                sheets::BentSheet sheet(t, k, 140.0, 100.0);
                for (int edge = 0; edge < 4; ++edge) {
                    const double length = edge % 2 == 0 ? 100.0 : 140.0;
                    sheet.attach(0, edge, relief, length - relief, {angle * degree, true, r, wall});
                }
                const Blank blank = sheets::unfolded(sheet.body(), k);
                const double allowance = angle * degree * (r + k * t);
                const double expected =
                    140.0 * 100.0 + 2.0 * (allowance + wall) * (240.0 - 4.0 * relief);
                CHECK(std::abs(blank.outline.area() - expected) < 1e-9 * expected);
                CHECK(sheets::difference(blank.outline, sheet.outline(), 1e-3) < 1e-9);
                CHECK(blank.bends.size() == 4);
                for (const Bend& bend : blank.bends) CHECK(bend.up);
            }
}

TEST_CASE("a tube with a slot and a quarter tube become rectangles") {
    for (const double angle : {0.5 * pi, 1.5 * pi, 2.0 * pi - 0.05}) {
        const double r = 12.0, t = 1.0, k = 0.5, height = 30.0;
        const Blank blank =
            sheets::unfolded(sheets::strip(t, height, 0.0, {{angle, true, r, 0.0}}), k);
        const Vector2 sizes = blank.outline.bounds().sizes();
        CHECK(sizes.x() == doctest::Approx(angle * (r + k * t)).epsilon(1e-10));
        CHECK(sizes.y() == doctest::Approx(height).epsilon(1e-10));
        REQUIRE(blank.bends.size() == 1);
        CHECK(blank.bends.front().kind == BendKind::roll);
        CHECK(blank.bends.front().lines.empty());
    }
}

TEST_CASE("a cone frustum becomes a sector of a ring") {
    // Parallel cones: radii and heights along the normal, a degree of opening taken out.
    const double half_angle = 20.0 * degree, t = 1.0, gap = 10.0 * degree, k = 0.4;
    const double low = 40.0, high = 90.0;  // distances from the apex along the inner cone
    const double s = std::sin(half_angle), c = std::cos(half_angle);
    const gp_Ax2 axis(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1));
    // Inner cone from the apex at the origin; the outer one has its apex t / sin below. Ends are
    // cut square by cones about the axis: here by planes, so both sides differ.
    const double apex = -t / s;
    const auto radius = [&](double from, double z) { return (z - from) * s / c; };
    const double z0 = low * c, z1 = high * c;
    const double sweep = 2.0 * pi - gap;
    const TopoDS_Shape outer =
        BRepPrimAPI_MakeCone(gp_Ax2(gp_Pnt(0, 0, z0), gp_Dir(0, 0, 1)), radius(apex, z0),
                             radius(apex, z1), z1 - z0, sweep)
            .Shape();
    const TopoDS_Shape inner =
        BRepPrimAPI_MakeCone(gp_Ax2(gp_Pnt(0, 0, z0 - 5.0), gp_Dir(0, 0, 1)), radius(0.0, z0 - 5.0),
                             radius(0.0, z1 + 5.0), z1 - z0 + 10.0)
            .Shape();
    const Blank blank = sheets::unfolded(BRepAlgoAPI_Cut(outer, inner).Shape(), k);
    // The middle cone has its apex half way; the neutral one is carried along the normal.
    const double middle_apex = 0.5 * apex;
    const double shift = (k - 0.5) * t * c / s;
    const double first = (z0 - middle_apex) / c + shift, last = (z1 - middle_apex) / c + shift;
    const double expected = 0.5 * (last * last - first * first) * sweep * s;
    // The rule is asked in the middle of the length.
    CHECK(std::abs(blank.outline.area() - expected) < 1e-9 * expected);
    std::vector<double> radii;
    for (const Curve& curve : blank.outline.profiles().front().outer().curves())
        if (const Arc* arc = std::get_if<Arc>(&curve)) radii.push_back(arc->radius);
    std::sort(radii.begin(), radii.end());
    REQUIRE(radii.size() == 2);
    CHECK(radii[0] == doctest::Approx(first).epsilon(1e-10));
    CHECK(radii[1] == doctest::Approx(last).epsilon(1e-10));
}

TEST_CASE("a hole through a bend: its area is the integral over the cylinder") {
    const double t = 2.0, r = 6.0, width = 40.0;
    for (const double k : {0.5, 0.35}) {
        // Along the bisector of a right-angled bend, in the middle of the width.
        const TopoDS_Shape body = sheets::strip(t, width, 30.0, {{0.5 * pi, true, r, 30.0}});
        const gp_Pnt center(30.0, 0.5 * width, t + r);
        const gp_Dir direction(1.0, 0.0, -1.0);
        for (const double radius : {1.0, 3.0}) {
            const TopoDS_Shape drill =
                BRepPrimAPI_MakeCylinder(gp_Ax2(center, direction), radius, 30.0).Shape();
            const Blank blank = sheets::unfolded(BRepAlgoAPI_Cut(body, drill).Shape(), k, 1e-6);
            REQUIRE(blank.outline.profiles().size() == 1);
            REQUIRE(blank.outline.profiles().front().holes().size() == 1);
            // On the cylinder of the middle layer: |R sin a| <= radius, half width by Pythagoras.
            const double middle = r + 0.5 * t, neutral = r + k * t;
            const double most = std::asin(radius / middle);
            double integral = 0.0;
            const int count = 4000;  // midpoint rule in the substitution R sin a = radius sin b
            for (int i = 0; i < count; ++i) {
                const double b = -0.5 * pi + pi * (i + 0.5) / count;
                const double sine = radius * std::sin(b) / middle;
                const double slope = radius * std::cos(b) / middle / std::sqrt(1.0 - sine * sine);
                integral += 2.0 * radius * std::cos(b) * slope * pi / count;
            }
            integral *= neutral;
            static_cast<void>(most);
            const double area = -blank.outline.profiles().front().holes().front().area();
            CHECK(std::abs(area - integral) < 1e-9 * integral);
        }
    }
}

namespace {

/// Of what is cut through a bend of a right angle along its bisector, in the blank: for each place
/// u across, `length(u)` along the bend; on the middle layer u is R sin a within the bend, beyond
/// it the walls go on straight at half a right angle. Midpoint rule in u = half width times sin b,
/// which takes away the square roots at the ends.
double developed_area(double middle, double neutral, double half_width,
                      const std::function<double(double)>& length) {
    const double end = middle * std::sin(0.25 * pi);
    double area = 0.0;
    const auto add = [&](double from, double to) {
        const double first = std::asin(from / half_width), last = std::asin(to / half_width);
        const int count = 100'000;
        for (int i = 0; i < count; ++i) {
            const double b = first + (last - first) * (i + 0.5) / count;
            const double u = half_width * std::sin(b);
            const double along =
                u < end ? neutral / std::sqrt(middle * middle - u * u) : std::sqrt(2.0);
            area += 2.0 * length(u) * along * half_width * std::cos(b) * (last - first) / count;
        }
    };
    add(0.0, std::min(end, half_width));
    if (half_width > end) add(end, half_width);
    return area;
}

std::size_t pole_count(const Contour& contour) {
    std::size_t count = 0;
    for (const Curve& curve : contour.curves())
        if (const Spline* spline = std::get_if<Spline>(&curve)) count += spline->poles.size();
    return count;
}

}  // namespace

TEST_CASE("circles, slots and ellipses through a bend, narrower and wider than it") {
    const double t = 1.5, k = 0.4, r = 2.0, middle = r + 0.5 * t, neutral = r + k * t;
    struct Cut {
        sheets::Outline outline;
        std::function<double(double)> length;
    };
    const auto round_end = [](double radius, double u) {
        return std::sqrt(std::max(0.0, radius * radius - u * u));
    };
    std::vector<Cut> cuts;
    for (const double width : {2.0, 3.0, 9.0}) {
        const double radius = 0.5 * width;
        cuts.push_back({sheets::slot(30.0, width),
                        [=](double u) { return 30.0 - width + 2.0 * round_end(radius, u); }});
        cuts.push_back({sheets::ellipse(12.0, width),
                        [=](double u) { return 12.0 / radius * round_end(radius, u); }});
        cuts.push_back({sheets::ellipse(width + 1e-3, width),
                        [=](double u) { return (width + 1e-3) / radius * round_end(radius, u); }});
    }
    for (const bool up : {true, false})
        for (const Cut& cut : cuts) {
            CAPTURE(up);
            CAPTURE(cut.outline.width);
            sheets::BentSheet sheet(t, k, 60.0, 40.0);
            const int wall = sheet.attach(0, 1, 2.0, 58.0, {0.5 * pi, up, r, 30.0});
            sheet.cut_bend(wall, 25.0, cut.outline);
            const Blank blank = sheets::unfolded(sheet.body(), k, 1e-4);
            REQUIRE(blank.outline.profiles().size() == 1);
            REQUIRE(blank.outline.profiles().front().holes().size() == 1);
            const Contour& hole = blank.outline.profiles().front().holes().front();
            const double expected =
                developed_area(middle, neutral, 0.5 * cut.outline.width, cut.length);
            CHECK(std::abs(-hole.area() - expected) < 1e-7 * expected);
            CHECK(blank.bends.size() == 1);
        }
}

TEST_CASE(
    "a hole drilled through a bend has few poles: no more than a fit to a smooth curve takes") {
    sheets::BentSheet sheet(1.5, 0.4, 60.0, 40.0);
    const int wall = sheet.attach(0, 1, 2.0, 58.0, {0.5 * pi, true, 2.0, 30.0});
    sheet.drill_bend(wall, 25.0, 3.0);
    const Blank blank = sheets::unfolded(sheet.body(), 0.4);
    // Sixteen quintic pieces; by the parameter of the model's edge beside it, it takes 28.
    CHECK(pole_count(blank.outline.profiles().front().holes().front()) <= 81);
}
