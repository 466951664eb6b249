/// What a straight cut can't make, in plates made with the kernel: depths and angles are those that
/// the plates were made with.

#include <BRepAlgoAPI_Common.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_NurbsConvert.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <GeomAPI_PointsToBSpline.hxx>
#include <Geom_BSplineCurve.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <cmath>
#include <set>

#include "features/found.hpp"

using namespace bodies;
using planform::pi;
using enum planform::FeatureSide;

namespace {

constexpr double quarter = pi / 4.0;

/// A prism over a closed polygon in the xz plane, along y.
TopoDS_Shape bar_along_y(const std::vector<gp_Pnt>& corners, double length) {
    BRepBuilderAPI_MakeWire wire;
    for (std::size_t i = 0; i < corners.size(); ++i)
        wire.Add(BRepBuilderAPI_MakeEdge(corners[i], corners[(i + 1) % corners.size()]).Edge());
    return BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(wire.Wire()).Face(), gp_Vec(0, length, 0))
        .Shape();
}

/// Upright, about the z axis; `radius` is that of its corners.
TopoDS_Shape regular_prism(double radius, int corners, double bottom, double height) {
    BRepBuilderAPI_MakePolygon polygon;
    for (int i = 0; i < corners; ++i) {
        const double turn = 2.0 * pi * i / corners;
        polygon.Add(gp_Pnt(radius * std::cos(turn), radius * std::sin(turn), bottom));
    }
    polygon.Close();
    return BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(polygon.Wire()).Face(),
                                 gp_Vec(0, 0, height))
        .Shape();
}

}  // namespace

TEST_CASE("straight plates have no features") {
    check_everywhere(drilled(drilled(plate(), 20, 20, 3), 40, 20, 5), {});
}

TEST_CASE("a straight wall may be a spline, or in pieces") {
    // A wavy wall that is a B-spline extruded along the normal.
    TColgp_Array1OfPnt points(1, 5);
    for (int i = 1; i <= 5; ++i) points(i) = gp_Pnt(15.0 * (i - 1), i % 2 == 0 ? 44.0 : 40.0, 0);
    BRepBuilderAPI_MakeWire wire;
    wire.Add(BRepBuilderAPI_MakeEdge(gp_Pnt(0, 40, 0), gp_Pnt(0, 0, 0)).Edge());
    wire.Add(BRepBuilderAPI_MakeEdge(gp_Pnt(0, 0, 0), gp_Pnt(60, 0, 0)).Edge());
    wire.Add(BRepBuilderAPI_MakeEdge(gp_Pnt(60, 0, 0), gp_Pnt(60, 40, 0)).Edge());
    wire.Add(BRepBuilderAPI_MakeEdge(GeomAPI_PointsToBSpline(points).Curve()).Edge());
    const TopoDS_Shape wavy = BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(wire.Wire()).Face(),
                                                    gp_Vec(0, 0, plate_thickness))
                                  .Shape();
    SUBCASE("extruded") { check_everywhere(wavy, {}); }
    SUBCASE("all faces as B-splines") {
        check_everywhere(BRepBuilderAPI_NurbsConvert(drilled(wavy, 30, 20, 4)).Shape(), {}, 1e-6);
    }
    SUBCASE("split in height: two plates on each other, their faces kept apart") {
        const TopoDS_Shape lower = BRepPrimAPI_MakeBox(gp_Pnt(0, 0, 0), 60.0, 40.0, 2.0).Shape();
        const TopoDS_Shape upper = BRepPrimAPI_MakeBox(gp_Pnt(0, 0, 2), 60.0, 40.0, 3.0).Shape();
        const TopoDS_Shape both = joined(lower, upper);
        REQUIRE(solids_of(both)[0].face_count() == 10);
        check_everywhere(drilled(both, 30, 20, 4), {});
    }
}

TEST_CASE("blind pocket") { check_everywhere(pocketed_plate(), {{FeatureKind::pocket, top, 2.0}}); }

TEST_CASE("blind holes: flat, and with the tip of a drill") {
    const TopoDS_Shape flat = without(plate(), cylinder(upright(15, 20, 2), 3.0, 9.0));
    // 118 degrees.
    const double half = 59.0 * pi / 180.0, tip = 3.0 / std::tan(half);
    const TopoDS_Shape cone =
        BRepPrimAPI_MakeCone(upright(40, 20, 3.0 - tip), 0.0, 3.0, tip).Shape();
    const TopoDS_Shape both = without(without(flat, cylinder(upright(40, 20, 3), 3.0, 9.0)), cone);
    Expected flat_hole{FeatureKind::pocket, top, 3.0};
    flat_hole.diameter = 6.0;
    Expected drilled_hole{FeatureKind::pocket, top, 2.0 + tip, 2.0 * half};
    drilled_hole.diameter = 6.0;
    check_everywhere(both, {flat_hole, drilled_hole});
}

TEST_CASE("pocket with draft and rounded corners at its floor") {
    const TopoDS_Shape pocket = [] {
        // 20 x 20 at the top, walls lean by 10 degrees, 3 mm deep.
        const double in = 3.0 * std::tan(10.0 * pi / 180.0);
        const gp_Ax2 lying(gp_Pnt(10, 10, 5), gp_Dir(0, 1, 0), gp_Dir(1, 0, 0));
        return BRepPrimAPI_MakeWedge(lying, 20.0, 3.0, 20.0, in, in, 20.0 - in, 20.0 - in).Shape();
    }();
    check_everywhere(without(plate(), pocket),
                     {{FeatureKind::pocket, top, 3.0, 10.0 * pi / 180.0}});
}

TEST_CASE("pocket with rounded corners at its floor is one feature") {
    const TopoDS_Shape open = pocketed_plate();
    BRepFilletAPI_MakeFillet maker(open);
    const auto edges = edges_at(open, 3.0);
    REQUIRE(edges.size() == 4);
    for (const TopoDS_Edge& edge : edges) maker.Add(0.5, edge);
    check_everywhere(maker.Shape(), {{FeatureKind::pocket, top, 2.0}});
}

TEST_CASE("features whose surfaces are written as splines") {
    const auto as_splines = [](const TopoDS_Shape& body) {
        return BRepBuilderAPI_NurbsConvert(body).Shape();
    };
    check_everywhere(as_splines(countersunk_plate()),
                     {{FeatureKind::countersink, top, 2.5, 2.0 * quarter, {}, 10.0, 5.0}}, 1e-6);
    check_everywhere(as_splines(pocketed_plate()), {{FeatureKind::pocket, top, 2.0}}, 1e-6);
    check_everywhere(as_splines(chamfered(plate(), 1.0)),
                     {{FeatureKind::chamfer, top, 1.0, quarter, 1.0}}, 1e-6);
    Expected edge{FeatureKind::rounded_edge, top, 2.0};
    edge.radius = 2.0;
    check_everywhere(as_splines(rounded(plate(), 2.0)), {edge}, 1e-6);
    Expected hole{FeatureKind::cross_hole, wall, 2.5, 0.0};
    hole.diameter = 3.0;
    check_everywhere(as_splines(cross_drilled_plate()), {hole}, 1e-6);
}

TEST_CASE("a cone in pieces is one: a nut turned at both ends, a countersink that a slot cuts") {
    const TopoDS_Shape nut = [] {
        std::vector<gp_Pnt> corners;
        for (int i = 0; i < 6; ++i)
            corners.emplace_back(10.0 * std::cos(i * pi / 3.0), 10.0 * std::sin(i * pi / 3.0), 0.0);
        BRepBuilderAPI_MakeWire wire;
        for (std::size_t i = 0; i < 6; ++i)
            wire.Add(BRepBuilderAPI_MakeEdge(corners[i], corners[(i + 1) % 6]).Edge());
        const TopoDS_Shape prism =
            BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(wire.Wire()).Face(),
                                  gp_Vec(0, 0, plate_thickness))
                .Shape();
        // 45 degrees: 9.5 mm radius at the top, wider below.
        return BRepAlgoAPI_Common(prism,
                                  BRepPrimAPI_MakeCone(upright(0, 0, 0), 14.5, 9.5, 5.0).Shape())
            .Shape();
    }();
    check_everywhere(nut, {{FeatureKind::chamfer, top, 0.5, quarter, 0.5}});
    check_everywhere(without(countersunk_plate(), box(gp_Pnt(20, 19, -1), gp_Pnt(40, 21, 9))),
                     {{FeatureKind::countersink, top, 2.5, 2.0 * quarter, {}, 10.0, 5.0}});
}

TEST_CASE("two pockets from both sides") {
    check_everywhere(without(pocketed_plate(), box(gp_Pnt(20, 22, -1), gp_Pnt(40, 30, 1.5))),
                     {{FeatureKind::pocket, top, 2.0}, {FeatureKind::pocket, bottom, 1.5}});
}

TEST_CASE("pocket with an island lower than the sheet") {
    const TopoDS_Shape open = without(plate(), box(gp_Pnt(10, 10, 2), gp_Pnt(40, 30, 9)));
    check_everywhere(joined(open, box(gp_Pnt(20, 15, 1), gp_Pnt(30, 25, 4))),
                     {{FeatureKind::pocket, top, 3.0}, {FeatureKind::step, top, 1.0}});
}

TEST_CASE("step at an edge, groove across the sheet") {
    check_everywhere(without(plate(), box(gp_Pnt(45, -1, 3.5), gp_Pnt(70, 50, 9))),
                     {{FeatureKind::step, top, 1.5}});
    check_everywhere(without(plate(), box(gp_Pnt(25, -1, 3), gp_Pnt(33, 50, 9))),
                     {{FeatureKind::groove, top, 2.0}});
}

TEST_CASE("countersink") {
    check_everywhere(countersunk_plate(),
                     {{FeatureKind::countersink, top, 2.5, 2.0 * quarter, {}, 10.0, 5.0}});
}

TEST_CASE("counterbore, and a countersink in it") {
    check_everywhere(counterbored_plate(),
                     {{FeatureKind::counterbore, top, 3.0, {}, {}, 12.0, 5.0}});
    const TopoDS_Shape cone = BRepPrimAPI_MakeCone(upright(30, 20, 1.5), 2.5, 3.0, 0.5).Shape();
    check_everywhere(without(counterbored_plate(), cone),
                     {{FeatureKind::counterbore, top, 3.0, {}, {}, 12.0, 6.0},
                      {FeatureKind::countersink, top, 0.5, 2.0 * quarter, {}, 6.0, 5.0}});
}

TEST_CASE("chamfer along all edges is one, whatever the corners") {
    check_everywhere(chamfered(plate(), 1.0), {{FeatureKind::chamfer, top, 1.0, quarter, 1.0}});
    const TopoDS_Shape body = plate();
    BRepFilletAPI_MakeFillet round_corners(body);
    TopTools_IndexedMapOfShape edges;
    TopExp::MapShapes(body, TopAbs_EDGE, edges);
    for (int i = 1; i <= edges.Extent(); ++i) {
        const TopoDS_Edge& edge = TopoDS::Edge(edges(i));
        double first = 0.0, last = 0.0;
        const Handle(Geom_Curve) curve = BRep_Tool::Curve(edge, first, last);
        if (std::abs(curve->Value(first).Z() - curve->Value(last).Z()) > 1.0)
            round_corners.Add(6.0, edge);
    }
    check_everywhere(chamfered(round_corners.Shape(), 1.0),
                     {{FeatureKind::chamfer, top, 1.0, quarter, 1.0}});
}

TEST_CASE("chamfers of two widths are two") {
    const TopoDS_Shape body = plate();
    BRepFilletAPI_MakeChamfer maker(body);
    const auto edges = edges_at(body, plate_thickness);
    REQUIRE(edges.size() == 4);
    maker.Add(1.0, edges[0]);
    const auto opposite = edges_at(body, 0.0);
    maker.Add(0.5, opposite[0]);
    check_everywhere(maker.Shape(), {{FeatureKind::chamfer, top, 1.0, quarter, 1.0},
                                     {FeatureKind::chamfer, bottom, 0.5, quarter, 0.5}});
}

TEST_CASE("rounded edge") {
    Expected edge{FeatureKind::rounded_edge, top, 2.0};
    edge.radius = 2.0;
    check_everywhere(rounded(plate(), 2.0), {edge});
    check_everywhere(rounded(drilled(plate(), 30, 20, 5), 2.0), {edge, edge});
}

TEST_CASE("drafted plate, wall bevelled at one side, conical hole") {
    const double draft = 0.4, angle = std::atan(draft / plate_thickness);
    check_everywhere(drafted_plate(draft), {{FeatureKind::bevelled_wall, wall, 5.0, angle, draft}});
    const TopoDS_Shape bevelled = without(
        plate(), bar_along_y({gp_Pnt(57, -1, 5), gp_Pnt(70, -1, 5), gp_Pnt(60, -1, 0)}, 60.0));
    check_everywhere(bevelled, {{FeatureKind::bevelled_wall, wall, 5.0, std::atan(0.6), 3.0}});
    const TopoDS_Shape hole =
        without(plate(), BRepPrimAPI_MakeCone(upright(30, 20, 0), 4.0, 5.0, 5.0).Shape());
    check_everywhere(hole,
                     {{FeatureKind::bevelled_wall, wall, 5.0, std::atan(0.2), 1.0, 10.0, 8.0}});
}

TEST_CASE("cross holes: along the sheet, slanted, blind with a tip") {
    Expected hole{FeatureKind::cross_hole, wall, 2.5, 0.0};
    hole.diameter = 3.0;
    check_everywhere(cross_drilled_plate(), {hole});
    const double slant = 60.0 * pi / 180.0;
    const gp_Dir along(std::cos(slant), 0, std::sin(slant));
    const gp_Ax2 axis(gp_Pnt(30.0 - 20 * along.X(), 20, 2.5 - 20 * along.Z()), along);
    Expected slanted{FeatureKind::cross_hole, wall, 2.5, slant};
    slanted.diameter = 4.0;
    check_everywhere(without(plate(), cylinder(axis, 2.0, 40.0)), {slanted});
    const TopoDS_Shape blind = without(
        without(plate(), cylinder(gp_Ax2(gp_Pnt(-1, 20, 3), gp_Dir(1, 0, 0)), 1.5, 16.0)),
        BRepPrimAPI_MakeCone(gp_Ax2(gp_Pnt(15, 20, 3), gp_Dir(1, 0, 0)), 1.5, 0.0, 1.0).Shape());
    hole.depth = 2.0;
    check_everywhere(blind, {hole});
}

TEST_CASE("boss at the top, dome at the bottom") {
    Expected boss{FeatureKind::boss, top, 4.0};
    boss.diameter = 8.0;
    const TopoDS_Shape with_boss = joined(plate(), cylinder(upright(20, 20, 2), 4.0, 7.0));
    check_everywhere(with_boss, {boss});
    const TopoDS_Shape dome = BRepPrimAPI_MakeSphere(gp_Pnt(40, 20, 1), 3.0).Shape();
    check_everywhere(joined(with_boss, dome), {boss, {FeatureKind::boss, bottom, 2.0}});
}

TEST_CASE("grooves in a wall: flat, V-shaped, round") {
    Expected groove{FeatureKind::groove, wall, 4.0};
    groove.width = 2.0;
    check_everywhere(without(plate(), box(gp_Pnt(56, -1, 2), gp_Pnt(70, 50, 4))), {groove});
    groove.depth = 1.5;
    groove.width = 3.0;
    check_everywhere(
        without(plate(),
                bar_along_y({gp_Pnt(58.5, -1, 2.5), gp_Pnt(60, -1, 1), gp_Pnt(60, -1, 4)}, 60.0)),
        {groove});
    const TopoDS_Shape disc = BRepPrimAPI_MakeCylinder(20.0, plate_thickness).Shape();
    groove.depth = 1.0;
    groove.width = 2.0;
    check_everywhere(without(disc, BRepPrimAPI_MakeTorus(upright(0, 0, 2.5), 20.0, 1.0).Shape()),
                     {groove});
}

TEST_CASE("a groove all round, whose mouth has hundreds of edges") {
    // Between sides of two regular polygons about one centre: the difference of their apothems.
    constexpr int corners = 200;
    const TopoDS_Shape plate_of_sides = regular_prism(20.0, corners, 0.0, plate_thickness);
    const TopoDS_Shape core = regular_prism(16.0, corners, 2.0, 2.0);
    Expected groove{FeatureKind::groove, wall, 4.0 * std::cos(pi / corners)};
    groove.width = 2.0;
    check_everywhere(
        without(plate_of_sides, without(box(gp_Pnt(-30, -30, 2), gp_Pnt(30, 30, 4)), core)),
        {groove});
}

TEST_CASE("T-slot, V-groove and round groove along the sheet") {
    const TopoDS_Shape slot = joined(box(gp_Pnt(-1, 18, 2), gp_Pnt(70, 22, 9)),
                                     box(gp_Pnt(-1, 15, 2), gp_Pnt(70, 25, 3)));
    Expected groove{FeatureKind::groove, top, 3.0};
    groove.width = 1.0;
    check_everywhere(without(plate(), slot), {groove});
    const TopoDS_Shape v =
        bar_along_y({gp_Pnt(30, -1, 3), gp_Pnt(32, -1, 5), gp_Pnt(28, -1, 5)}, 60.0);
    check_everywhere(without(plate(), v), {{FeatureKind::groove, top, 2.0, quarter}});
    const TopoDS_Shape half = cylinder(gp_Ax2(gp_Pnt(30, -1, 5), gp_Dir(0, 1, 0)), 1.5, 60.0);
    Expected half_round{FeatureKind::groove, top, 1.5};
    half_round.radius = 1.5;
    check_everywhere(without(plate(), half), {half_round});
}

TEST_CASE("cavity") {
    check_everywhere(without(plate(), box(gp_Pnt(10, 10, 1), gp_Pnt(20, 20, 3.5))),
                     {{FeatureKind::cavity, inside, 2.5}});
}

TEST_CASE("all at once on one plate") {
    TopoDS_Shape body = countersunk_plate();
    body = without(body, box(gp_Pnt(5, 5, 3), gp_Pnt(15, 15, 9)));
    body = without(body, cylinder(gp_Ax2(gp_Pnt(50, -1, 2.5), gp_Dir(0, 1, 0)), 1.0, 60.0));
    body = joined(body, cylinder(upright(10, 30, 3), 3.0, 4.0));
    Expected hole{FeatureKind::cross_hole, wall, 2.5, 0.0}, boss{FeatureKind::boss, top, 2.0};
    hole.diameter = 2.0;
    boss.diameter = 6.0;
    check_everywhere(body, {{FeatureKind::countersink, top, 2.5, 2.0 * quarter, {}, 10.0, 5.0},
                            {FeatureKind::pocket, top, 2.0},
                            hole,
                            boss});
}

TEST_CASE("the place of a feature, its heights and its faces") {
    const auto cut = looked_at(countersunk_plate(), planform::Datum::xy());
    REQUIRE(cut.features.size() == 1);
    const planform::UncuttableFeature& sink = cut.features[0];
    CHECK(sink.place.isApprox(planform::Point2(30, 20), 1e-12));
    CHECK(sink.low == doctest::Approx(2.5));
    CHECK(sink.high == doctest::Approx(5.0));
    CHECK(sink.box.min().isApprox(planform::Point2(25, 15), 1e-9));
    CHECK(sink.box.max().isApprox(planform::Point2(35, 25), 1e-9));
    CHECK(sink.faces.size() == 1);
    CHECK(sink.text ==
          "countersink at the top, 90 degrees, 10 mm wide, hole 5 mm; the silhouette shows the "
          "drilled hole (5 mm), --at top the wide circle (10 mm)");
    CHECK(!cut.is_straight());
    CHECK(looked_at(plate(), planform::Datum::xy()).is_straight());
}

TEST_CASE("a body without flat faces says so") {
    const auto cut = looked_at(BRepPrimAPI_MakeSphere(5.0).Shape(), planform::Datum::xy());
    CHECK(!cut.top_is_flat);
    CHECK(!cut.bottom_is_flat);
    CHECK(!cut.is_straight());
    CHECK(cut.thickness() == doctest::Approx(10.0).epsilon(1e-9));
}

TEST_CASE("flat faces that only look at each other are no top and bottom: a spool") {
    const TopoDS_Shape waist = cylinder(upright(0, 0, -2), 3.0, 4.0);
    const TopoDS_Shape ends =
        joined(BRepPrimAPI_MakeCone(upright(0, 0, 2), 8.0, 0.0, 8.0).Shape(),
               BRepPrimAPI_MakeCone(upright(0, 0, -10), 0.0, 8.0, 8.0).Shape());
    const auto cut = looked_at(joined(waist, ends), planform::Datum::xy());
    CHECK(!cut.top_is_flat);
    CHECK(!cut.bottom_is_flat);
    CHECK(cut.thickness() == doctest::Approx(20.0).epsilon(1e-9));
}

TEST_CASE("every kind has a word of its own") {
    std::set<std::string_view> words;
    for (const FeatureKind kind : planform::all_feature_kinds()) words.insert(word_for(kind));
    CHECK(words.size() == 12);
    CHECK(!words.contains(""));
}

TEST_CASE("a feature as a finding: its rule's severity, or none") {
    using namespace planform;
    const auto sink = looked_at(countersunk_plate(), Datum::xy()).features.at(0);
    const auto finding = finding_of(sink, RuleSet());
    REQUIRE(finding);
    CHECK(finding->rule == RuleKind::straight_cut);
    CHECK(finding->severity == Severity::warning);
    CHECK(finding->place.isApprox(Point2(30, 20), 1e-12));
    CHECK(finding->measured.value() == doctest::Approx(2.5).epsilon(1e-9));
    CHECK(finding->unit == "mm");
    CHECK(finding->text.starts_with("Countersink at the top, 90 degrees"));
    const RuleSet strict = RuleSet().with_severity(RuleKind::straight_cut, Severity::error);
    CHECK(finding_of(sink, strict)->severity == Severity::error);
    CHECK(!finding_of(sink, RuleSet().with_enabled(RuleKind::straight_cut, false)));
    const auto lean = looked_at(drafted_plate(0.4), Datum::xy()).features.at(0);
    const auto leans = finding_of(lean, RuleSet());
    CHECK(leans->measured.value() == doctest::Approx(std::atan(0.08) * 180.0 / pi).epsilon(1e-9));
    CHECK(leans->unit == "degrees");
}
