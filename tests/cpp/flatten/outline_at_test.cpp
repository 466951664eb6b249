/// Outlines at the top, at the bottom and through the full thickness, against closed forms: areas
/// of rectangles and circles.

#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "flatten/plate_bodies.hpp"
#include "planform/error.hpp"
#include "planform/memory.hpp"

namespace {

using namespace planform;
using namespace bodies;

struct Areas {
    double shadow, top, bottom, through;
};

double area_at(const TopoDS_Shape& shape, const Datum& datum, At at) {
    return silhouette(solids_of(shape), datum, {0.01, Merge::unite, at}).area();
}

void check_areas(const TopoDS_Shape& shape, const Datum& datum, const Areas& expected) {
    CHECK(area_at(shape, datum, At::shadow) == doctest::Approx(expected.shadow).epsilon(1e-9));
    CHECK(area_at(shape, datum, At::top) == doctest::Approx(expected.top).epsilon(1e-9));
    CHECK(area_at(shape, datum, At::bottom) == doctest::Approx(expected.bottom).epsilon(1e-9));
    CHECK(area_at(shape, datum, At::through) == doctest::Approx(expected.through).epsilon(1e-9));
}

/// As drawn, with the datum turned over, and with the solid moved and turned in space.
void check_everywhere(const TopoDS_Shape& shape, const Areas& expected) {
    const Datum over(Point3(1, 2, 3), Vector3(0, 0, -1));
    const Areas turned_over{expected.shadow, expected.bottom, expected.top, expected.through};
    check_areas(shape, Datum::xy(), expected);
    check_areas(shape, over, turned_over);
    const Placed moved = placed(shape);
    check_areas(moved.shape, moved.datum, expected);
    check_areas(moved.shape, moved.from_below, turned_over);
}

}  // namespace

TEST_CASE("a straight plate has one outline") {
    const auto solids = solids_of(drilled_plate());
    const std::string shadow = silhouette(solids, Datum::xy()).digest();
    for (const At at : {At::top, At::bottom, At::through})
        CHECK(silhouette(solids, Datum::xy(), {0.01, Merge::unite, at}).digest() == shadow);
}

TEST_CASE("countersunk hole: the wide circle at the top, the drilled hole elsewhere") {
    const double narrow = plate_area - circle_area(2.5), wide = plate_area - circle_area(5.0);
    check_everywhere(countersunk_plate(), {narrow, wide, narrow, wide});
}

TEST_CASE("counterbored hole: the wide circle at the top, the drilled hole elsewhere") {
    const double narrow = plate_area - circle_area(2.5), wide = plate_area - circle_area(6.0);
    check_everywhere(counterbored_plate(), {narrow, wide, narrow, wide});
}

TEST_CASE("blind pocket: no hole in the shadow") {
    const double open = plate_area - 15.0 * 10.0;
    check_everywhere(pocketed_plate(), {plate_area, open, plate_area, open});
}

TEST_CASE("pockets from both sides: material stands through where neither is") {
    const double above = 15.0 * 10.0, below = 20.0 * 10.0, both = 5.0 * 5.0;
    check_everywhere(
        without(pocketed_plate(), box(gp_Pnt(20, 5, -1), gp_Pnt(40, 15, 2))),
        {plate_area, plate_area - above, plate_area - below, plate_area - above - below + both});
}

TEST_CASE("drafted plates: frustums of a cone and of a pyramid") {
    check_everywhere(BRepPrimAPI_MakeCone(10.0, 8.0, 3.0).Shape(),
                     {circle_area(10), circle_area(8), circle_area(10), circle_area(8)});
    check_everywhere(drafted_plate(1.0), {plate_area, 58.0 * 38.0, plate_area, 58.0 * 38.0});
}

TEST_CASE("chamfered plate: the top is smaller") {
    check_everywhere(chamfered(plate(), 1.0), {plate_area, 58.0 * 38.0, plate_area, 58.0 * 38.0});
}

TEST_CASE("plate with rounded edges: the top is smaller") {
    check_everywhere(rounded(plate(), 2.0), {plate_area, 56.0 * 36.0, plate_area, 56.0 * 36.0});
}

TEST_CASE("cross hole: what it undermines does not stand through") {
    check_everywhere(cross_drilled_plate(),
                     {plate_area, plate_area, plate_area, plate_area - 3.0 * plate_length});
}

TEST_CASE("T-slot: its mouth at the top, its full width through") {
    const TopoDS_Shape slot = joined(box(gp_Pnt(-1, 18, 2), gp_Pnt(70, 22, 9)),
                                     box(gp_Pnt(-1, 15, 2), gp_Pnt(70, 25, 3)));
    check_everywhere(without(plate(), slot),
                     {plate_area, plate_area - 60.0 * 4.0, plate_area, plate_area - 60.0 * 10.0});
}

TEST_CASE("a cavity leaves nothing through") {
    check_everywhere(without(plate(), box(gp_Pnt(10, 10, 1), gp_Pnt(20, 20, 4))),
                     {plate_area, plate_area, plate_area, plate_area - 100.0});
}

TEST_CASE("a boss is no top: the sheet under it is") {
    const TopoDS_Shape boss = cylinder(upright(20, 20, 2), 6.0, 8.0);
    check_everywhere(joined(plate(), boss), {plate_area, plate_area, plate_area, plate_area});
    // A pin that overhangs: the sheet under its head stands through.
    const TopoDS_Shape head = cylinder(upright(20, 20, 9), 8.0, 2.0);
    check_everywhere(joined(joined(plate(), boss), head),
                     {plate_area, plate_area, plate_area, plate_area});
}

TEST_CASE("a tray's rim is its top") {
    const double rim = plate_area - 56.0 * 36.0;
    check_everywhere(without(plate(), box(gp_Pnt(2, 2, 1), gp_Pnt(58, 38, 9))),
                     {plate_area, rim, plate_area, rim});
}

TEST_CASE("each solid is taken at its own top") {
    gp_Trsf aside;
    aside.SetTranslation(gp_Vec(100, 0, 20));
    auto solids = solids_of(countersunk_plate());
    solids.push_back(
        solids_of(BRepBuilderAPI_Transform(pocketed_plate(), aside, true).Shape()).front());
    const double expected = 2.0 * plate_area - circle_area(5.0) - 150.0;
    for (const At at : {At::top, At::through})
        for (const Merge merge : {Merge::unite, Merge::keep}) {
            const ProfileSet set = silhouette(solids, Datum::xy(), {0.01, merge, at});
            CHECK(set.area() == doctest::Approx(expected).epsilon(1e-9));
            CHECK(set.profiles().size() == 2);
        }
}

TEST_CASE("what was taken stands in the notes; what can't be taken is an error") {
    const auto note = [](At at) {
        return silhouette(solids_of(plate()), Datum::xy(), {0.01, Merge::unite, at}).notes();
    };
    CHECK(note(At::shadow).empty());
    REQUIRE(note(At::top).size() == 1);
    CHECK(note(At::top)[0].starts_with("outline at the top"));
    CHECK(note(At::bottom)[0].starts_with("outline at the bottom"));
    CHECK(note(At::through)[0].starts_with("outline where material stands through"));
    const auto ball = solids_of(BRepPrimAPI_MakeSphere(5.0).Shape());
    for (const At at : {At::top, At::bottom, At::through})
        CHECK_THROWS_WITH_AS(silhouette(ball, Datum::xy(), {0.01, Merge::unite, at}),
                             doctest::Contains("no flat face"), GeometryError);
}

TEST_CASE("a face may slant past the top: a ball pressed into a pocket") {
    // A ball of 4 mm radius, its centre in the plane of the top, in a pocket down to 3 mm.
    const TopoDS_Shape pressed = joined(without(plate(), box(gp_Pnt(10, 10, 3), gp_Pnt(30, 30, 9))),
                                        BRepPrimAPI_MakeSphere(gp_Pnt(20, 20, 5), 4.0).Shape());
    const double outside = plate_area - 400.0;
    // Under the ball's rim there is air: it stands through where it meets the pocket's floor, a
    // circle of radius sqrt(4^2 - 2^2).
    const auto solids = solids_of(pressed);
    const auto area = [&](At at) {
        return silhouette(solids, Datum::xy(), {0.01, Merge::unite, at}).area();
    };
    CHECK(area(At::shadow) == doctest::Approx(plate_area).epsilon(1e-9));
    CHECK(area(At::top) == doctest::Approx(outside + circle_area(4.0)).epsilon(1e-9));
    CHECK(area(At::bottom) == doctest::Approx(plate_area).epsilon(1e-9));
    CHECK(area(At::through) ==
          doctest::Approx(outside + circle_area(std::sqrt(12.0))).epsilon(1e-9));
}

TEST_CASE("a solid stays as it is where the kernel cuts a part of it off") {
    // Not its edges either, which booleans give curves of their own.
    const TopoDS_Shape pressed = joined(without(plate(), box(gp_Pnt(10, 10, 3), gp_Pnt(30, 30, 9))),
                                        BRepPrimAPI_MakeSphere(gp_Pnt(20, 20, 5), 4.0).Shape());
    const auto solids = solids_of(drilled(pressed, 45, 20, 3.0));
    const std::string before = brep_bytes(solids.front());
    for (const At at : {At::shadow, At::top, At::bottom, At::through}) {
        CHECK(silhouette(solids, Datum::xy(), {0.01, Merge::unite, at}).area() > 0.0);
        CHECK((brep_bytes(solids.front()) == before));
    }
}
