#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>

#include "contact/assemblies.hpp"
#include "planform/error.hpp"
#include "planform/occt.hpp"

using namespace planform;
using namespace assemblies;

namespace {

struct Found {
    PlateList plates;
    Mating mating;
};

Found find(const Model& model, FitOn fit_on = FitOn::slot) {
    PlateList list = plates(model);
    Mating mates = mating(model.solids(), list, fit_on);
    return {std::move(list), std::move(mates)};
}

const Contour& contour_of(const ProfileSet& set, const CurveAddress& at) {
    const Profile& profile = set.profiles()[static_cast<std::size_t>(at.profile)];
    return at.contour == 0 ? profile.outer()
                           : profile.holes()[static_cast<std::size_t>(at.contour) - 1];
}

const Curve& curve_of(const ProfileSet& set, const CurveAddress& at) {
    return contour_of(set, at).curves()[static_cast<std::size_t>(at.curve)];
}

int curves_in(const ProfileSet& set) {
    std::size_t count = 0;
    for (const Profile& profile : set.profiles()) {
        count += profile.outer().curves().size();
        for (const Contour& hole : profile.holes()) count += hole.curves().size();
    }
    return static_cast<int>(count);
}

int seats(const MatingOutline& outline) {
    return static_cast<int>(std::count_if(outline.curves.begin(), outline.curves.end(),
                                          [](const MatingCurve& curve) { return curve.is_seat; }));
}

const Plate& plate_with_holes(const PlateList& list) {
    for (const Plate& plate : list.plates)
        if (!plate.outline.profiles().front().holes().empty()) return plate;
    FAIL("no plate has holes");
    return list.plates.front();
}

std::size_t index_of(const PlateList& list, const Plate& plate) {
    return static_cast<std::size_t>(&plate - list.plates.data());
}

}  // namespace

TEST_CASE("rings of plates with fingers: the flanks mate, at any angle, wherever they lie") {
    std::mt19937_64 random(20261130);
    int rings = 0;
    for (const int sides : {3, 4, 5, 6, 8, 12})
        for (const int levels : {3, 4, 7})
            for (const bool as_instances : {true, false}) {
                CAPTURE(sides);
                CAPTURE(levels);
                CAPTURE(as_instances);
                const FingerRing ring{sides, levels};
                const Model model = model_of(ring.bodies(random_motion(random), as_instances));
                const auto [list, mates] = find(model);
                REQUIRE(list.plates.size() == 1);
                REQUIRE(list.plates.front().quantity() == sides);
                const ProfileSet& outline = list.plates.front().outline;
                const MatingOutline& found = mates.outlines.front();
                CHECK(curves_in(outline) == 4 * levels);
                // Flanks between levels at both ends, twice (levels - 1); square corners make seats
                // of the gaps' ends, levels at both ends together.
                const int flanks = 2 * (levels - 1), ends = sides == 4 ? levels : 0;
                CHECK(static_cast<int>(found.curves.size()) == flanks + ends);
                CHECK(seats(found) == ends);
                const double step = ring.finger_end() - ring.gap_end();
                for (const MatingCurve& curve : found.curves) {
                    const double long_ = length(curve_of(outline, curve.at));
                    if (curve.is_seat) {
                        CHECK(long_ == doctest::Approx(ring.height / levels).epsilon(1e-9));
                        CHECK(curve.share == 0.0);
                    } else {
                        CHECK(long_ == doctest::Approx(step).epsilon(1e-9));
                        // Each end meshes with the other end of an equal plate: nobody is the slot,
                        // unless one finger stands in one gap.
                        if (levels > 3) CHECK(curve.share == 0.5);
                    }
                    // Bodies of their own may be laid on the outline turned by half a turn.
                    if (as_instances) CHECK(static_cast<int>(curve.touches.size()) == sides);
                }
                CHECK(found.joints == 2);
                CHECK(mates.joints == sides);
                CHECK(found.notes.empty());
                ++rings;
            }
    CHECK(rings == 36);
}

TEST_CASE("a ring's contacts: rhombi between the flanks, by closed form") {
    const FingerRing ring{6, 5};
    const Model model = model_of(ring.bodies({}, true));
    const std::vector<Contact> found = contacts(model.solids());
    CHECK(found.size() == 6 * 4);  // four flanks a corner
    for (const Contact& contact : found) {
        const double area = ring.thickness * ring.thickness / std::sin(ring.angle());
        CHECK(contact.area == doctest::Approx(area).epsilon(1e-9));
        REQUIRE(contact.points.size() == 1);
        CHECK(std::abs(contact.points.front().normal.z()) == doctest::Approx(1.0).epsilon(1e-12));
        CHECK(contact.solids[0] < contact.solids[1]);
    }
}

TEST_CASE("a tab in a slot: all of the slot mates, the tab's flanks do, its shoulders are seats") {
    // A floor with a slot of 20 x 3; an upright plate with a tab through it and shoulders on it.
    const TopoDS_Shape floor =
        sheet(rectangle(-50, -30, 50, 30), 6.0, {rectangle(-10, -1.5, 10, 1.5)});
    const TopoDS_Shape wall = sheet(
        {{-30, 0}, {-10, 0}, {-10, -6}, {10, -6}, {10, 0}, {30, 0}, {30, 40}, {-30, 40}}, 3.0);
    std::mt19937_64 random(7);
    for (const FitOn fit_on : {FitOn::slot, FitOn::tab, FitOn::both}) {
        const gp_Trsf motion = random_motion(random);
        gp_Trsf upright = motion;
        upright.Multiply(frame({0, 1.5, 6.0}, Vector3::UnitX(), Vector3::UnitZ()));
        const Model model = model_of({placed(floor, motion, true), placed(wall, upright, true)});
        const auto [list, mates] = find(model, fit_on);
        REQUIRE(list.plates.size() == 2);
        const Plate& with_slot = plate_with_holes(list);
        const std::size_t slotted = index_of(list, with_slot);
        const MatingOutline& slot = mates.outlines[slotted];
        const MatingOutline& tab = mates.outlines[1 - slotted];
        REQUIRE(slot.curves.size() == 4);
        for (const MatingCurve& curve : slot.curves) {
            CHECK(curve.at.contour == 1);
            CHECK(!curve.is_seat);
            // The long walls meet the faces of the other sheet, which nobody cuts.
            const bool is_long = length(curve_of(with_slot.outline, curve.at)) > 10.0;
            const double expected = is_long || fit_on == FitOn::slot ? 1.0
                                    : fit_on == FitOn::tab           ? 0.0
                                                                     : 0.5;
            CHECK(curve.share == expected);
        }
        REQUIRE(tab.curves.size() == 4);
        CHECK(seats(tab) == 2);
        for (const MatingCurve& curve : tab.curves) {
            const double long_ = length(curve_of(list.plates[1 - slotted].outline, curve.at));
            CHECK(long_ == doctest::Approx(curve.is_seat ? 20.0 : 6.0).epsilon(1e-9));
            const double expected = curve.is_seat || fit_on == FitOn::slot ? 0.0
                                    : fit_on == FitOn::tab                 ? 1.0
                                                                           : 0.5;
            CHECK(curve.share == expected);
        }
        CHECK(slot.joints == 1);
        CHECK(tab.joints == 1);
        CHECK(mates.joints == 1);
    }
}

TEST_CASE("a slotted cross: the notches' sides hold sheets, their ends meet") {
    const double t = 4.0;
    // A notch from above to half of the height; the other plate turned upside down.
    const TopoDS_Shape half = sheet({{-40, 0},
                                     {40, 0},
                                     {40, 30},
                                     {t / 2, 30},
                                     {t / 2, 15},
                                     {-t / 2, 15},
                                     {-t / 2, 30},
                                     {-40, 30}},
                                    t);
    const gp_Trsf first = frame({0, t / 2, 0}, Vector3::UnitX(), Vector3::UnitZ());
    const gp_Trsf second = frame({t / 2, 0, 30}, Vector3::UnitY(), -Vector3::UnitZ());
    for (const bool as_instances : {true, false}) {
        gp_Trsf turned = second;
        const Model model =
            model_of({placed(half, first, as_instances), placed(half, turned, as_instances)});
        const auto overlap = contacts(model.solids());
        const auto [list, mates] = find(model);
        REQUIRE(list.plates.size() == 1);
        const MatingOutline& found = mates.outlines.front();
        REQUIRE(found.curves.size() == 3);
        CHECK(seats(found) == 0);
        for (const MatingCurve& curve : found.curves) {
            const bool is_end = length(curve_of(list.plates[0].outline, curve.at)) < 10.0;
            // The ends are two pieces of one outline that meet: a half each.
            CHECK(curve.share == (is_end ? 0.5 : 1.0));
        }
        CHECK(found.joints == 1);
        CHECK(mates.joints == 1);
    }
}

TEST_CASE("a turned peg in a drilled plate: the circle takes the fit, others don't") {
    TopoDS_Shape plate = sheet(rectangle(-40, -25, 40, 25), 5.0);
    plate = cut(plate, cylinder(-20, 0, 4.0, -1, 6));
    plate = cut(plate, cylinder(20, 0, 4.0, -1, 6));
    std::mt19937_64 random(11);
    for (int i = 0; i < 5; ++i) {
        const gp_Trsf motion = random_motion(random);
        const Model model = model_of({placed(plate, motion, false),
                                      placed(cylinder(-20, 0, 4.0, -15, 30), motion, false),
                                      placed(cylinder(20, 0, 3.9, -15, 30), motion, false)});
        const auto [list, mates] = find(model);
        REQUIRE(list.plates.size() == 1);
        REQUIRE(mates.outlines.front().curves.size() == 1);
        const MatingCurve& curve = mates.outlines.front().curves.front();
        CHECK(curve.at.contour > 0);
        CHECK(curve.share == 1.0);
        CHECK(curve.touches == std::vector<int>{1});
        // 2 pi r times thickness, estimated from places on the faces.
        const std::vector<Contact> touching = contacts(model.solids());
        REQUIRE(touching.size() == 1);
        CHECK(touching.front().area == doctest::Approx(2.0 * pi * 4.0 * 5.0).epsilon(0.15));
    }
}

TEST_CASE("what meets nothing is no mating curve: edges, corners and gaps don't count") {
    const TopoDS_Shape plate = sheet(rectangle(0, 0, 40, 30), 3.0);
    const auto moved = [&](double x, double y, double z) {
        gp_Trsf motion;
        motion.SetTranslation(gp_Vec(x, y, z));
        return placed(plate, motion, true);
    };
    const auto count = [&](const TopoDS_Shape& other) {
        const Model model = model_of({moved(0, 0, 0), other});
        return find(model).mating.outlines.front().curves.size();
    };
    CHECK(count(moved(40, 0, 0)) == 2);        // edge to edge: both of the short edges
    CHECK(count(moved(40, 30, 0)) == 0);       // corner to corner
    CHECK(count(moved(40, 0, 3)) == 0);        // edge on edge
    CHECK(count(moved(40.002, 0, 0)) == 0);    // two micrometres apart
    CHECK(count(moved(40.0005, 0, 0)) == 2);   // within one
    CHECK(count(moved(0, 0, 3)) == 0);         // a stack: faces touch, walls don't
    CHECK(count(moved(40, 29.9995, 0)) == 0);  // a common strip of half a micrometre
    CHECK(count(moved(40, 29, 0)) == 2);       // a millimetre in common: the whole edges mate
}

TEST_CASE("a wall that goes on past a vertex mates as a whole") {
    // The long edge has a vertex in its middle; the other plate touches beside it.
    const TopoDS_Shape first = sheet({{0, 0}, {20, 0}, {40, 0}, {40, 30}, {0, 30}}, 3.0);
    const TopoDS_Shape second = sheet(rectangle(2, -20, 12, 0), 3.0);
    const auto [list, mates] = find(model_of({first, second}));
    REQUIRE(list.plates.size() == 2);
    for (std::size_t i = 0; i < 2; ++i) {
        double mated = 0.0;
        for (const MatingCurve& curve : mates.outlines[i].curves)
            mated += length(curve_of(list.plates[i].outline, curve.at));
        const bool is_first = list.plates[i].outline.area() > 1000.0;
        CHECK(mated == doctest::Approx(is_first ? 40.0 : 10.0).epsilon(1e-9));
    }
}

TEST_CASE("bad calls: distances that are none, pieces that name nothing") {
    const Model model = model_of({sheet(rectangle(0, 0, 40, 30), 3.0)});
    for (const double within : std::vector<double>{0.0, -1.0, std::nan(""), INFINITY})
        CHECK_THROWS_AS(contacts(model.solids(), {within}), GeometryError);
    CHECK(contacts(model.solids()).empty());
    CHECK(contacts({}).empty());
    const PlateList list = plates(model);
    const std::vector<ProfileSet> outlines{list.plates.front().outline};
    const auto with = [&](const PlacedOutline& piece) {
        return mating(model.solids(), outlines, std::vector{piece}, {});
    };
    CHECK(with({0, {0}, 0}).outlines.front().curves.empty());
    CHECK_THROWS_AS(with({1, {0}, 0}), GeometryError);
    CHECK_THROWS_AS(with({0, {1}, 0}), GeometryError);
    CHECK_THROWS_AS(with({0, {0}, 1}), GeometryError);
}
