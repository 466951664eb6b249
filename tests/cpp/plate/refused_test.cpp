#include <doctest/doctest.h>

#include <BRepAdaptor_Surface.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepOffsetAPI_DraftAngle.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <gp_Ax2.hxx>
#include <gp_Pln.hxx>

#include "planform/error.hpp"
#include "plate/bodies.hpp"

using namespace planform;
using parts::refused;

namespace {

bool says(const OtherPart& part, const std::string& figure) {
    return part.text.find(figure) != std::string::npos;
}

/// An angle of sheet, folded sharp.
TopoDS_Shape sharp_angle(double leg, double flange, double thickness, double length) {
    return parts::prism({{0.0, 0.0},
                         {leg, 0.0},
                         {leg, thickness},
                         {thickness, thickness},
                         {thickness, flange},
                         {0.0, flange}},
                        length);
}

/// The same, bent round the inner radius.
TopoDS_Shape round_angle(double leg, double flange, double thickness, double radius,
                         double length) {
    const double outer = radius + thickness;
    const auto quarter = [&](double r) {
        const TopoDS_Shape round =
            BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(outer, outer, 0.0), gp_Dir(0, 0, 1)), r, length)
                .Shape();
        const TopoDS_Shape corner = BRepPrimAPI_MakeBox(outer, outer, length).Shape();
        return BRepAlgoAPI_Cut(corner, BRepAlgoAPI_Cut(corner, round).Shape()).Shape();
    };
    const TopoDS_Shape bend = BRepAlgoAPI_Cut(quarter(outer), quarter(radius)).Shape();
    const TopoDS_Shape flat =
        BRepPrimAPI_MakeBox(gp_Pnt(outer, 0.0, 0.0), gp_Pnt(leg, thickness, length)).Shape();
    const TopoDS_Shape wing =
        BRepPrimAPI_MakeBox(gp_Pnt(0.0, outer, 0.0), gp_Pnt(thickness, flange, length)).Shape();
    return BRepAlgoAPI_Fuse(BRepAlgoAPI_Fuse(bend, flat).Shape(), wing).Shape();
}

/// A plate whose four walls lean by `angle`.
TopoDS_Shape drafted(double angle) {
    const TopoDS_Shape plate = parts::box(100.0, 60.0, 8.0);
    BRepOffsetAPI_DraftAngle draft(plate);
    const gp_Pln neutral(gp_Pnt(0.0, 0.0, 0.0), gp_Dir(0.0, 0.0, 1.0));
    for (TopExp_Explorer faces(plate, TopAbs_FACE); faces.More(); faces.Next()) {
        const TopoDS_Face face = TopoDS::Face(faces.Current());
        if (std::abs(BRepAdaptor_Surface(face).Plane().Axis().Direction().Z()) < 0.5)
            draft.Add(face, gp_Dir(0.0, 0.0, 1.0), angle, neutral);
    }
    draft.Build();
    return draft.Shape();
}

}  // namespace

TEST_CASE("turned parts") {
    CHECK(refused(parts::cylinder(10.0, 60.0)).reason == NotFlat::turned_part);
    CHECK(refused(BRepPrimAPI_MakeSphere(12.0).Shape()).reason == NotFlat::turned_part);
    CHECK(refused(BRepPrimAPI_MakeTorus(20.0, 4.0).Shape()).reason == NotFlat::turned_part);
    // A bush, a flanged bush, a slice of a tube: a ring 2 mm broad and 10 mm high.
    CHECK(refused(parts::drilled(parts::cylinder(10.0, 30.0), 0.0, 0.0, 12.0)).reason ==
          NotFlat::turned_part);
    const TopoDS_Shape flanged =
        BRepAlgoAPI_Fuse(parts::cylinder(30.0, 3.0), parts::cylinder(10.0, 30.0)).Shape();
    const OtherPart bush = refused(parts::drilled(flanged, 0.0, 0.0, 12.0));
    CHECK(bush.reason == NotFlat::turned_part);
    CHECK(says(bush, "100 %"));
    CHECK(refused(parts::drilled(parts::cylinder(20.0, 10.0), 0.0, 0.0, 36.0)).reason ==
          NotFlat::turned_part);
}

TEST_CASE("blocks, by the ratio of thickness and width, which is an option") {
    CHECK(refused(parts::box(40.0, 40.0, 40.0)).reason == NotFlat::block);
    CHECK(refused(parts::box(10.0, 10.0, 100.0)).reason == NotFlat::block);
    const OtherPart block = refused(parts::box(60.0, 50.0, 30.0));
    CHECK(block.reason == NotFlat::block);
    CHECK(says(block, "thickness of 30 mm"));
    CHECK(says(block, "0.6"));
    CHECK(says(block, "50 mm"));
    PlateOptions options;
    options.greatest_thickness = 0.7;
    CHECK(parts::plates_of({parts::box(60.0, 50.0, 30.0)}, options).plates.size() == 1);
    // Just thin enough, and a strip of a plate.
    CHECK(parts::plates_of({parts::box(60.0, 50.0, 25.0)}).plates.size() == 1);
    CHECK(parts::plates_of({parts::box(200.0, 12.0, 6.0)}).plates.size() == 1);
}

TEST_CASE("bent sheets: sharp and round, with a short flange and with a long one") {
    for (const double flange : {12.0, 40.0, 80.0}) {
        CAPTURE(flange);
        // Drawn sharp it is bent with the radius of its thickness (common practice, no source).
        const PlateList sharp = parts::plates_of({sharp_angle(80.0, flange, 2.0, 60.0)});
        REQUIRE(sharp.plates.size() == 1);
        REQUIRE(sharp.plates.front().bends.size() == 1);
        CHECK(sharp.plates.front().bends.front().inside_radius ==
              doctest::Approx(2.0).epsilon(1e-9));
        // Bent round it is cut as its blank.
        const PlateList round = parts::plates_of({round_angle(80.0, flange, 2.0, 3.0, 60.0)});
        REQUIRE(round.plates.size() == 1);
        REQUIRE(round.plates.front().bends.size() == 1);
        CHECK(round.plates.front().bends.front().inside_radius ==
              doctest::Approx(3.0).epsilon(1e-9));
    }
    // A channel, and a sheet without a flat middle.
    const TopoDS_Shape channel = BRepAlgoAPI_Fuse(
        sharp_angle(80.0, 30.0, 2.0, 60.0),
        BRepPrimAPI_MakeBox(gp_Pnt(78.0, 0.0, 0.0), gp_Pnt(80.0, 30.0, 60.0)).Shape());
    CHECK(parts::plates_of({channel}).plates.size() == 1);
    const TopoDS_Shape tube = parts::drilled(parts::cylinder(20.0, 60.0), 0.0, 0.0, 36.0);
    const TopoDS_Shape half = BRepAlgoAPI_Cut(
        tube, BRepPrimAPI_MakeBox(gp_Pnt(-30.0, 0.0, -1.0), gp_Pnt(30.0, 30.0, 61.0)).Shape());
    const PlateList rolled = parts::plates_of({half});
    REQUIRE(rolled.plates.size() == 1);
    REQUIRE(rolled.plates.front().bends.size() == 1);
    CHECK(rolled.plates.front().bends.front().kind == BendKind::roll);
}

TEST_CASE("a wedge names the angle between its faces") {
    // 100 mm long, 10 and 5 mm thick: atan(5 / 100) = 2.86 degrees.
    const TopoDS_Shape wedge =
        parts::prism({{0.0, 0.0}, {100.0, 0.0}, {100.0, 5.0}, {0.0, 10.0}}, 50.0);
    const OtherPart part = refused(wedge);
    CHECK(part.reason == NotFlat::wedge);
    CHECK(says(part, "2.86 degrees"));
    // The same trapezoid as a plate is one.
    CHECK(parts::plates_of({parts::prism({{0, 0}, {100, 0}, {100, 50}, {0, 90}}, 6.0)})
              .plates.size() == 1);
}

TEST_CASE("a plate with draft names the angle") {
    for (const double degrees : {1.0, 3.0, 10.0}) {
        CAPTURE(degrees);
        const OtherPart part = refused(drafted(degrees * pi / 180.0));
        CHECK(part.reason == NotFlat::draft);
        CHECK(says(part, "100 %"));
    }
    CHECK(says(refused(drafted(3.0 * pi / 180.0)), "3 degrees"));
}

TEST_CASE("options out of range are refused; every reason has a word") {
    PlateOptions options;
    options.least_volume_share = 1.5;
    CHECK_THROWS_AS(parts::plates_of({parts::box(50, 50, 5)}, options), GeometryError);
    for (const NotFlat reason : all_not_flat_reasons()) CHECK_FALSE(word_for(reason).empty());
}
