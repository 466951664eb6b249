/// Bent sheets as they come from elsewhere: splines for planes and cylinders, broken edges, split
/// faces, slanted cuts, slits.

#include <doctest/doctest.h>

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_NurbsConvert.hxx>
#include <BRepFilletAPI_MakeChamfer.hxx>
#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRep_Tool.hxx>
#include <TopExp.hxx>
#include <TopLoc_Location.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <cmath>
#include <gp_Ax1.hxx>
#include <gp_Ax2.hxx>
#include <gp_Trsf.hxx>

#include "unfold/sheets.hpp"

using namespace planform;
using sheets::BentSheet;
using sheets::Flange;

namespace {

using sheets::degree;

TopoDS_Shape bracket() {
    return sheets::strip(2.0, 50.0, 40.0, {{90.0 * degree, true, 3.0, 30.0}});
}

double bracket_length(double k) {
    return sheets::strip_length(2.0, k, 40.0, {{90.0 * degree, true, 3.0, 30.0}});
}

/// Edges along y at the far end of the first wall, on both sides of the sheet.
std::vector<TopoDS_Edge> far_edges(const TopoDS_Shape& body) {
    std::vector<TopoDS_Edge> result;
    TopTools_IndexedMapOfShape edges;
    TopExp::MapShapes(body, TopAbs_EDGE, edges);
    for (int i = 1; i <= edges.Extent(); ++i) {
        const TopoDS_Edge& edge = TopoDS::Edge(edges(i));
        const gp_Pnt a = BRep_Tool::Pnt(TopExp::FirstVertex(edge));
        const gp_Pnt b = BRep_Tool::Pnt(TopExp::LastVertex(edge));
        if (std::abs(a.X()) < 1e-9 && std::abs(b.X()) < 1e-9 && std::abs(a.Y() - b.Y()) > 1.0)
            result.push_back(edge);
    }
    REQUIRE(result.size() == 2);
    return result;
}

}  // namespace

TEST_CASE("splines that are planes and cylinders") {
    const TopoDS_Shape plain =
        BRepAlgoAPI_Cut(
            bracket(),
            BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(15, 20, -1), gp_Dir(0, 0, 1)), 4.0, 5.0).Shape())
            .Shape();
    const Blank expected = sheets::unfolded(plain, 0.4);
    const Blank found =
        sheets::unfolded(BRepBuilderAPI_NurbsConvert(plain, Standard_True).Shape(), 0.4);
    CHECK(sheets::difference(expected.outline, found.outline, 1e-3) < 1e-6);
    REQUIRE(found.bends.size() == 1);
    CHECK(found.bends.front().inside_radius == doctest::Approx(3.0).epsilon(1e-6));
    CHECK(found.bends.front().angle == doctest::Approx(0.5 * pi).epsilon(1e-6));
    CHECK(found.bends.front().up == expected.bends.front().up);
}

TEST_CASE("rounded and chamfered edges are left out, with a note") {
    const double expected = bracket_length(0.4) * 50.0;
    const TopoDS_Shape body = bracket();
    BRepFilletAPI_MakeFillet rounded(body);
    for (const TopoDS_Edge& edge : far_edges(body)) rounded.Add(0.4, edge);
    BRepFilletAPI_MakeChamfer chamfered(body);
    for (const TopoDS_Edge& edge : far_edges(body)) chamfered.Add(0.5, edge);
    for (const TopoDS_Shape& shape : {rounded.Shape(), chamfered.Shape()}) {
        const Blank blank = sheets::unfolded(shape, 0.4);
        CHECK(blank.outline.area() == doctest::Approx(expected).epsilon(1e-7));
        REQUIRE(!blank.notes.empty());
        CHECK(blank.notes.back().find("left out") != std::string::npos);
    }
}

TEST_CASE("broken edges of splines that are planes and cylinders: the blank of the closed forms") {
    const TopoDS_Shape body = bracket();
    // All edges in the plane y = 0: both walls, both sides of the bend, both ends.
    BRepFilletAPI_MakeFillet rounded(body);
    BRepFilletAPI_MakeChamfer chamfered(body);
    for (const TopoDS_Edge& edge : far_edges(body)) chamfered.Add(0.4, edge);
    TopTools_IndexedMapOfShape edges;
    TopExp::MapShapes(body, TopAbs_EDGE, edges);
    for (int i = 1; i <= edges.Extent(); ++i) {
        const TopoDS_Edge& edge = TopoDS::Edge(edges(i));
        if (std::abs(BRep_Tool::Pnt(TopExp::FirstVertex(edge)).Y()) < 1e-9 &&
            std::abs(BRep_Tool::Pnt(TopExp::LastVertex(edge)).Y()) < 1e-9)
            rounded.Add(0.4, edge);
    }
    gp_Trsf placement;
    placement.SetRotation(gp_Ax1(gp_Pnt(3, 1, 2), gp_Dir(1, 2, 3)), 0.7);
    for (const bool is_round : {true, false}) {
        CAPTURE(is_round);
        const TopoDS_Shape plain = is_round ? rounded.Shape() : chamfered.Shape();
        const TopoDS_Shape splines = BRepBuilderAPI_NurbsConvert(plain, Standard_True).Shape();
        const Blank expected = sheets::unfolded(plain, 0.4);
        // Where the wall's narrow edges are rounded too, the blank has round corners.
        const double corners = is_round ? 2.0 * 0.16 * (1.0 - 0.25 * pi) : 0.0;
        CHECK(expected.outline.area() ==
              doctest::Approx(bracket_length(0.4) * 50.0 - corners).epsilon(1e-9));
        for (const TopoDS_Shape& shape : {splines, splines.Moved(TopLoc_Location(placement))}) {
            const Blank found = sheets::unfolded(shape, 0.4);
            CHECK(sheets::difference(expected.outline, found.outline, 1e-3) < 1e-6);
            CHECK(found.outline.area() == doctest::Approx(expected.outline.area()).epsilon(1e-9));
            CHECK(found.notes.size() == 1);
            REQUIRE(found.bends.size() == 1);
            CHECK(found.bends.front().inside_radius == doctest::Approx(3.0).epsilon(1e-9));
        }
    }
}

TEST_CASE("countersinks are left out, the hole stays") {
    TopoDS_Shape body =
        BRepAlgoAPI_Cut(
            bracket(),
            BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(15, 20, -1), gp_Dir(0, 0, 1)), 2.0, 5.0).Shape())
            .Shape();
    const double area = sheets::unfolded(body, 0.4).outline.area();
    body =
        BRepAlgoAPI_Cut(
            body,
            BRepPrimAPI_MakeCone(gp_Ax2(gp_Pnt(15, 20, 1), gp_Dir(0, 0, 1)), 1.5, 3.5, 2.0).Shape())
            .Shape();
    const Blank blank = sheets::unfolded(body, 0.4);
    CHECK(blank.outline.area() == doctest::Approx(area).epsilon(1e-7));
    CHECK(!blank.notes.empty());
}

TEST_CASE("walls and bends that are split into several faces") {
    // Cut apart along a plane and joined again: faces stay split.
    const TopoDS_Shape half = BRepPrimAPI_MakeBox(gp_Pnt(-10, -10, -10), 100, 30, 100).Shape();
    const TopoDS_Shape body = bracket();
    const TopoDS_Shape split =
        BRepAlgoAPI_Fuse(BRepAlgoAPI_Cut(body, half).Shape(),
                         BRepAlgoAPI_Cut(body, BRepAlgoAPI_Cut(body, half).Shape()).Shape())
            .Shape();
    const Blank blank = sheets::unfolded(split, 0.4);
    CHECK(blank.outline.area() == doctest::Approx(bracket_length(0.4) * 50.0).epsilon(1e-9));
    CHECK(blank.outline.profiles().front().outer().curves().size() == 4);
    REQUIRE(blank.bends.size() == 1);
    CHECK(blank.bends.front().length() == doctest::Approx(50.0).epsilon(1e-9));
}

TEST_CASE("a mitred end: the cut is taken in the middle of the thickness") {
    // A plane through the upright wall at 45 degrees to it, square on the lying one.
    gp_Trsf turn;
    turn.SetRotation(gp_Ax1(gp_Pnt(0, 50, 0), gp_Dir(0, 0, 1)), -20.0 * degree);
    TopoDS_Shape wedge = BRepPrimAPI_MakeBox(gp_Pnt(-50, 50, -50), 200, 100, 200).Shape();
    wedge.Move(TopLoc_Location(turn));
    const TopoDS_Shape body = BRepAlgoAPI_Cut(bracket(), wedge).Shape();
    const Blank blank = sheets::unfolded(body, 0.5, 1e-5);
    CHECK(blank.notes.size() == 1);
    // Along the middle layer the width is 50 - x tan 20: x runs over the wall, then the bend of
    // middle radius 4 (K = 1/2: as long as the blank), then stays.
    const double slope = std::tan(20.0 * degree);
    const double expected = 40.0 * 50.0 - 800.0 * slope + 2.0 * pi * (50.0 - 40.0 * slope) -
                            16.0 * slope + 30.0 * (50.0 - 44.0 * slope);
    CHECK(blank.outline.area() == doctest::Approx(expected).epsilon(1e-9));
}

TEST_CASE("bends beside a narrow slit, and no relief at its end") {
    // Two flanges along one edge with a saw's cut between, bent by different angles.
    BentSheet sheet(1.0, 0.4, 60.0, 60.0);
    sheet.attach(0, 0, 0.0, 29.9, {60.0 * degree, true, 2.0, 20.0});
    sheet.attach(0, 0, 30.0, 60.0, {80.0 * degree, true, 2.0, 20.0});
    const Unfolding unfolding = try_unfold(sheets::solid_of(sheet.body()));
    REQUIRE_MESSAGE(unfolding.blank.has_value(), unfolding.refusal.text);
    CHECK(unfolding.blank->bends.size() == 2);
    const auto findings = bend_findings(unfolding.blank->outline, unfolding.blank->bends, 1.0);
    CHECK(sheets::difference(sheets::unfolded(sheet.body(), 0.4).outline, sheet.outline(), 1e-3) <
          1e-9);
    for (const Finding& finding : findings) CHECK(finding.rule == RuleKind::bend_relief);
}

TEST_CASE("rules of inspection for bends") {
    const auto found = [](BentSheet& sheet, RuleKind kind,
                          std::optional<double> least_radius = std::nullopt) {
        const Blank blank = sheets::unfolded(sheet.body(), 0.4);
        std::vector<Finding> result;
        for (const Finding& finding :
             bend_findings(blank.outline, blank.bends, blank.thickness, RuleSet(), least_radius))
            if (finding.rule == kind) result.push_back(finding);
        return result;
    };
    const auto plain = [] { return BentSheet(1.0, 0.4, 60.0, 50.0); };
    const Flange flange{90.0 * degree, true, 2.0, 20.0};
    {
        // A hole of 4 mm whose edge is 1.9 and 2.1 mm from the bend.
        for (const double apart : {1.9, 2.1}) {
            BentSheet sheet = plain();
            sheet.attach(0, 0, 0.0, 50.0, flange);
            sheet.drill(0, {60.0 - apart - 2.0, 25.0}, 4.0);
            const auto findings = found(sheet, RuleKind::bend_distance);
            REQUIRE(findings.size() == (apart < 2.0 ? 1 : 0));
            if (apart < 2.0)
                CHECK(*findings.front().measured == doctest::Approx(1.9).epsilon(1e-3));
        }
    }
    {
        BentSheet sheet = plain();
        const int wall = sheet.attach(0, 0, 0.0, 50.0, flange);
        sheet.drill_bend(wall, 25.0, 1.5);
        const auto findings = found(sheet, RuleKind::bend_distance);
        REQUIRE(findings.size() == 1);
        CHECK(*findings.front().measured == 0.0);
    }
    for (const double length : {2.9, 3.1}) {
        BentSheet sheet = plain();
        sheet.attach(0, 0, 0.0, 50.0, {90.0 * degree, true, 2.0, length});
        const auto findings = found(sheet, RuleKind::flange);
        REQUIRE(findings.size() == (length < 3.0 ? 1 : 0));
        if (length < 3.0)
            CHECK(*findings.front().measured == doctest::Approx(length).epsilon(1e-3));
    }
    {
        // Ends within the edge: no relief at either end; with notches: reliefs.
        BentSheet sheet = plain();
        sheet.attach(0, 0, 10.0, 40.0, flange);
        CHECK(found(sheet, RuleKind::bend_relief).size() == 2);
        sheet.cut(0, {58.0, 8.5}, 4.0, 1.5);
        sheet.cut(0, {58.0, 40.0}, 4.0, 1.5);
        CHECK(found(sheet, RuleKind::bend_relief).empty());
        BentSheet full = plain();
        full.attach(0, 0, 0.0, 50.0, flange);
        CHECK(found(full, RuleKind::bend_relief).empty());
        CHECK(found(full, RuleKind::bend_radius).empty());
        CHECK(found(full, RuleKind::bend_radius, 2.0).empty());
        CHECK(found(full, RuleKind::bend_radius, 2.1).size() == 1);
    }
}
