/// Bent sheets among the plates: counted with their bends, mirror images apart.

#include <doctest/doctest.h>

#include <BRepBuilderAPI_Transform.hxx>
#include <cmath>
#include <gp_Ax2.hxx>
#include <gp_Quaternion.hxx>

#include "plate/bodies.hpp"
#include "unfold/sheets.hpp"

using namespace planform;
using sheets::BentSheet;

namespace {

constexpr double right_angle = 0.5 * pi;

/// A bracket whose mirror image is another: flanges of different length, up and down.
TopoDS_Shape bracket() {
    BentSheet sheet(1.5, 0.4, 60.0, 40.0);
    sheet.attach(0, 0, 5.0, 35.0, {right_angle, true, 2.0, 15.0});
    sheet.attach(0, 1, 10.0, 30.0, {right_angle, false, 2.0, 20.0});
    sheet.drill(0, {15.0, 12.0}, 6.0);
    return sheet.body();
}

gp_Trsf turned(double x, double y, double z) {
    gp_Trsf motion;
    gp_Quaternion turn;
    turn.SetEulerAngles(gp_Extrinsic_XYZ, x, y, z);
    motion.SetTransformation(turn, gp_Vec(100.0 * x, 100.0 * y, 100.0 * z));
    return motion;
}

}  // namespace

TEST_CASE("copies of a bent sheet, turned any way, are one plate with its bends") {
    const TopoDS_Shape body = bracket();
    const PlateList list = parts::plates_of({body, parts::copied(body, turned(0.3, 1.0, 2.0)),
                                             parts::copied(body, turned(pi, 0.0, 0.4)),
                                             parts::copied(body, turned(0.0, pi, 1.0))});
    CHECK(list.others.empty());
    REQUIRE(list.plates.size() == 1);
    const Plate& plate = list.plates.front();
    CHECK(plate.quantity() == 4);
    CHECK(plate.thickness == doctest::Approx(1.5).epsilon(1e-9));
    CHECK(plate.bends.size() == 2);
    CHECK(plate.cut.is_straight());
    CHECK(plate.outline.marks().size() == 2);
}

TEST_CASE("a mirror image bends the other way and is another plate, with a note") {
    const TopoDS_Shape body = bracket();
    const PlateList list = parts::plates_of({body, parts::mirrored(body)});
    REQUIRE(list.plates.size() == 2);
    CHECK(list.plates[0].outline.area() == doctest::Approx(list.plates[1].outline.area()));
    bool is_noted = false;
    for (const Plate& plate : list.plates)
        for (const std::string& note : plate.notes)
            is_noted = is_noted || note.find("mirror image of") != std::string::npos;
    CHECK(is_noted);
}

TEST_CASE("a bracket that is its own mirror image is one plate") {
    const TopoDS_Shape body = sheets::strip(2.0, 50.0, 40.0, {{right_angle, true, 3.0, 30.0}});
    const PlateList list = parts::plates_of({body, parts::mirrored(body)});
    REQUIRE(list.plates.size() == 1);
    CHECK(list.plates.front().quantity() == 2);
}

TEST_CASE("the same blank bent by another angle is another plate") {
    const double k = 0.4;
    const auto made = [&](double angle, double length) {
        return sheets::strip(2.0, 50.0, 40.0, {{angle, true, 3.0, length}});
    };
    const double lost = (right_angle - 1.2) * (3.0 + k * 2.0);
    PlateOptions options;
    options.bends.kind = BendRuleKind::k_factor;
    options.bends.k_factor = k;
    const PlateList list =
        parts::plates_of({made(right_angle, 30.0), made(1.2, 30.0 + lost)}, options);
    REQUIRE(list.plates.size() == 2);
    CHECK(list.plates[0].outline.area() == doctest::Approx(list.plates[1].outline.area()));
}
