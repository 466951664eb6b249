/// The way of the tool where the part has hardly room for it: whatever the tool would pass by is an
/// error, whatever it can't reach a note, both with their place. Widths and depths are closed
/// forms.

#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "planform/allowance.hpp"
#include "planform/error.hpp"
#include "profile/outlines.hpp"

using namespace planform;

namespace {

constexpr double kerf = 0.2;

/// A plate of 40 x 30 mm, along whose upper edge, from right to left, something is cut in.
ProfileSet plate_with(std::vector<Curve> notch, double tolerance = 0.01) {
    const Point2 right = start_point(notch.front()), left = end_point(notch.back());
    std::vector<Curve> curves{Line{{0, 0}, {40, 0}}, Line{{40, 0}, {40, 30}},
                              Line{{40, 30}, right}};
    curves.insert(curves.end(), notch.begin(), notch.end());
    curves.push_back(Line{left, {0, 30}});
    curves.push_back(Line{{0, 30}, {0, 0}});
    return ProfileSet({Profile(Contour(std::move(curves)))}, {}, Datum::xy(), tolerance, "plate");
}

std::vector<Curve> path(const std::vector<Point2>& points) {
    std::vector<Curve> curves;
    for (std::size_t i = 0; i + 1 < points.size(); ++i)
        curves.push_back(Line{points[i], points[i + 1]});
    return curves;
}

std::vector<Curve> notch(double width, double depth) {
    const double r = 20 + width / 2, l = 20 - width / 2;
    return path({{r, 30}, {r, 30 - depth}, {l, 30 - depth}, {l, 30}});
}

std::vector<Curve> tapering(double width, double depth) {
    return path({{20 + width / 2, 30}, {20, 30 - depth}, {20 - width / 2, 30}});
}

std::vector<Curve> half_round(double radius) { return {Arc{{20, 30}, radius, 0.0, -pi}}; }

ProfileSet cut(const ProfileSet& part, double width = kerf) {
    Allowance allowance;
    allowance.kerf = width;
    return as_cut(part, allowance);
}

/// Empty if there is room.
std::string refusal(const ProfileSet& part, double width = kerf) {
    try {
        cut(part, width);
    } catch (const GeometryError& error) {
        CHECK(error.kind() == ErrorKind::no_room_for_allowance);
        return error.what();
    }
    return {};
}

bool has(const std::string& text, const std::string& words) {
    return text.find(words) != std::string::npos;
}

/// Of the note on tips; nothing if there is none.
double depth_told(const ProfileSet& way) {
    const std::string words = "tips that the cut does not reach: ";
    for (const std::string& note : way.notes())
        if (has(note, words)) return std::stod(note.substr(words.size()));
    return 0.0;
}

}  // namespace

TEST_CASE("a slot or notch as wide as the cut is an error, not a part without it") {
    // Both sides of the way are one line there, which no drawing can hold as an outline.
    for (const double more : {-1e-3, -1e-6, -1e-9, 0.0, 1e-12, 1e-9, 1e-7, 1e-6, 5e-6}) {
        CAPTURE(more);
        const double width = kerf + more;
        CHECK(has(refusal(plate_with(notch(width, 10))), "\"plate\": the hole or slot at (20, "));
        const auto slot = ProfileSet(
            {Profile(outlines::rectangle(0, 0, 40, 30), {outlines::rectangle(20, 10, width, 10)})});
        CHECK(!refusal(slot).empty());
        // Narrower further in.
        const double r = 19 + width;
        CHECK(!refusal(plate_with(path({{21, 30}, {21, 25}, {r, 25}, {r, 15}, {19, 15}, {19, 30}})))
                   .empty());
        const double radius = width / 2;
        CHECK(!refusal(plate_with({Line{{20 + radius, 30}, {20 + radius, 20}},
                                   Arc{{20, 20}, radius, 0.0, -pi},
                                   Line{{20 - radius, 20}, {20 - radius, 30}}}))
                   .empty());
        const ProfileSet ring(
            {Profile(outlines::circle({20, 20}, 19), {outlines::circle({20, 20}, 10)}),
             Profile(outlines::circle({20, 20}, 10 - width), {}, "", 0)});
        CHECK(has(refusal(ring), "mm wide"));
        CHECK(!has(refusal(ring), "20 mm wide"));
    }
    // A little wider, and the tool goes in, around and out: eight sides, the area by hand.
    for (const double more : {2e-5, 1e-3, 0.5}) {
        CAPTURE(more);
        const ProfileSet way = cut(plate_with(notch(kerf + more, 10)));
        CHECK(way.profiles()[0].outer().curves().size() == 8);
        CHECK(way.area() == doctest::Approx(40.2 * 30.2 - more * 10.0).epsilon(1e-12));
    }
}

TEST_CASE("notches that the tool passes by are errors, whatever their form") {
    // Nothing of the walls could be cut: without an error the part would have a straight edge.
    for (const double width : {0.05, 0.1, 0.19})
        CHECK(
            has(refusal(plate_with(tapering(width, 10))), "the notch at (20, 20) is " +
                                                              std::string(width < 0.1    ? "0.05"
                                                                          : width < 0.15 ? "0.1"
                                                                                         : "0.19") +
                                                              " mm wide, narrower than the cut"));
    for (const double radius : {0.06, 0.09, 0.0999})
        CHECK(has(refusal(plate_with(half_round(radius))), "narrower than the cut of 0.2 mm"));
    // As round as the tool: it would have to stand still there.
    for (const double more : {0.0, 1e-9, 1e-7})
        CHECK(!refusal(plate_with(half_round(0.1 + more))).empty());
    CHECK(refusal(plate_with(half_round(0.11))).empty());
    CHECK(!refusal(plate_with(notch(0.15, 0.06))).empty());
    // A spline that dips by 1 mm over 0.1 mm.
    const std::vector<Point2> poles{{20.05, 30}, {20.05, 28.5}, {19.95, 28.5}, {19.95, 30}};
    CHECK(!refusal(plate_with({Spline{3, {0, 0, 0, 0, 1, 1, 1, 1}, poles, {}}})).empty());
    // Several in one contour, the first in order with its place; of a hole, too.
    const ProfileSet saw =
        plate_with(path({{30, 30}, {29.95, 20}, {29.9, 30}, {25, 30}, {24.95, 20}, {24.9, 30}}));
    CHECK(has(refusal(saw), "(29.95, 20)"));
    std::vector<Curve> edge =
        path({{10, 10}, {10, 20}, {15, 20}, {15.05, 25}, {15.1, 20}, {20, 20}, {20, 10}, {10, 10}});
    const ProfileSet in_hole(
        {Profile(outlines::rectangle(0, 0, 40, 30), {Contour(std::move(edge))})});
    CHECK(has(refusal(in_hole), "(15.05, 25)"));
}

TEST_CASE("what a round tool leaves in any inner corner is no error") {
    const double r = kerf / 2;
    // Right angles keep 0.41 r: notches that are shallower than half of the radius count like
    // those.
    CHECK(refusal(plate_with(notch(0.15, 0.04))).empty());
    CHECK(refusal(plate_with(half_round(0.04))).empty());
    // Corners filleted by less than the radius; a tip cut off by less than the width.
    const std::vector<Curve> filleted{Line{{22, 30}, {22, 25.03}},
                                      Arc{{21.97, 25.03}, 0.03, 0.0, -pi / 2},
                                      Line{{21.97, 25}, {18, 25}}, Line{{18, 25}, {18, 30}}};
    CHECK(refusal(plate_with(filleted)).empty());
    const std::vector<Curve> blunt = path({{25, 30}, {20.05, 20}, {19.95, 20}, {15, 30}});
    CHECK(refusal(plate_with(blunt)).empty());
    CHECK(depth_told(cut(plate_with(blunt))) == 0.0);
    // A tip of angle a keeps r (1 / sin(a / 2) - 1), told of from 3 r on: below 29 degrees.
    for (const double width : {0.3, 0.5, 2.0, 5.0, 5.5, 10.0}) {
        CAPTURE(width);
        const double left = r * (1.0 / std::sin(std::atan(width / 2 / 10.0)) - 1.0);
        const ProfileSet way = cut(plate_with(tapering(width, 10)));
        CHECK(depth_told(way) == doctest::Approx(left > 3 * r ? left : 0.0).epsilon(1e-5));
        CHECK(way.profiles()[0].outer().curves().size() == 7);
    }
}

TEST_CASE("an allowance is not put in twice") {
    const ProfileSet part(
        {Profile(outlines::rectangle(0, 0, 40, 30), {outlines::rectangle(10, 10, 10, 6)})}, {},
        Datum::xy(), 0.01, "tray");
    const ProfileSet way = cut(part);
    CHECK(allowance_notes(part).empty());
    CHECK(allowance_notes(way) == way.notes());
    CHECK_THROWS_WITH_AS(cut(way),
                         doctest::Contains("\"tray\": the width of cut is in the outline "
                                           "already"),
                         GeometryError);
    Allowance fit;
    fit.fit = 0.05;
    fit.fits = inner_fits(part, 0.05);
    const ProfileSet eased = as_cut(part, fit);
    CHECK_THROWS_WITH_AS(as_cut(eased, fit), doctest::Contains("a fit is in the outline already"),
                         GeometryError);
    // One after the other is the same as both at once.
    Allowance both = fit;
    both.kerf = kerf;
    CHECK(cut(eased).area() == doctest::Approx(as_cut(part, both).area()).epsilon(1e-13));
    Allowance relief;
    relief.relief = 2.0;
    CHECK_THROWS_AS(as_cut(way, relief), GeometryError);
    const ProfileSet relieved = as_cut(part, relief);
    CHECK_THROWS_AS(as_cut(relieved, relief), GeometryError);
    CHECK(allowance_notes(cut(relieved)).size() == 2);
    // Nothing is asked for: nothing happens.
    CHECK(as_cut(way, {}) == way);
}
