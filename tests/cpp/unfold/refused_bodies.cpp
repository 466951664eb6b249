#include "unfold/refused_bodies.hpp"

#include <doctest/doctest.h>

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBndLib.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRepOffsetAPI_MakeThickSolid.hxx>
#include <BRepOffsetAPI_ThruSections.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <BRep_Tool.hxx>
#include <Bnd_Box.hxx>
#include <GC_MakeArcOfCircle.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopoDS.hxx>
#include <cmath>
#include <functional>
#include <gp_Ax2.hxx>
#include <gp_Circ.hxx>

#include "unfold/sheets.hpp"

namespace refused {

using planform::NotUnfolded;
using planform::pi;
using sheets::BentSheet;

namespace {

using sheets::degree;

constexpr double right_angle = 0.5 * pi;

gp_Ax2 upright(double x, double y, double z) { return {gp_Pnt(x, y, z), gp_Dir(0, 0, 1)}; }

TopoDS_Shape cone(double z, double lower, double upper, double height) {
    return BRepPrimAPI_MakeCone(upright(0, 0, z), lower, upper, height).Shape();
}

TopoDS_Face polygon(const std::vector<gp_Pnt>& corners) {
    BRepBuilderAPI_MakeWire wire;
    for (std::size_t i = 0; i < corners.size(); ++i)
        wire.Add(BRepBuilderAPI_MakeEdge(corners[i], corners[(i + 1) % corners.size()]).Edge());
    return BRepBuilderAPI_MakeFace(wire.Wire()).Face();
}

/// The section turned about the z axis by a full turn.
TopoDS_Shape turned(const std::vector<std::pair<double, double>>& corners) {
    std::vector<gp_Pnt> points;
    for (const auto& [x, z] : corners) points.emplace_back(x, 0.0, z);
    return BRepPrimAPI_MakeRevol(polygon(points), gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1))).Shape();
}

/// An L bent about y at x = 40.
TopoDS_Shape bracket(double thickness = 2.0) {
    return sheets::strip(thickness, 50.0, 40.0, {{right_angle, true, 3.0, 30.0}});
}

/// A box about the z axis with rounds at its upright edges.
TopoDS_Shape rounded_box(double size, double radius) {
    const TopoDS_Shape body = box(-size / 2, -size / 2, 0, size, size, 80);
    BRepFilletAPI_MakeFillet corners(body);
    TopTools_IndexedMapOfShape edges;
    TopExp::MapShapes(body, TopAbs_EDGE, edges);
    for (int i = 1; i <= edges.Extent(); ++i) {
        const TopoDS_Edge& edge = TopoDS::Edge(edges(i));
        const gp_Pnt a = BRep_Tool::Pnt(TopExp::FirstVertex(edge));
        const gp_Pnt b = BRep_Tool::Pnt(TopExp::LastVertex(edge));
        if (std::abs(a.Z() - b.Z()) > 1.0) corners.Add(radius, edge);
    }
    return corners.Shape();
}

/// Hollow, open where the shape reaches up to a height.
TopoDS_Shape shelled(const TopoDS_Shape& body, double height, double thickness) {
    TopTools_ListOfShape open;
    for (TopExp_Explorer face(body, TopAbs_FACE); face.More(); face.Next()) {
        Bnd_Box bounds;
        BRepBndLib::Add(face.Current(), bounds);
        double x0, y0, z0, x1, y1, z1;
        bounds.Get(x0, y0, z0, x1, y1, z1);
        if (z0 > height - 0.1) open.Append(face.Current());
    }
    REQUIRE(open.Extent() == 1);
    BRepOffsetAPI_MakeThickSolid shell;
    shell.MakeThickSolidByJoin(body, open, -thickness, 1e-5);
    return shell.Shape();
}

/// With rounds at all edges that lie in z = 0.
TopoDS_Shape rounded_below(const TopoDS_Shape& body, double radius) {
    BRepFilletAPI_MakeFillet fillet(body);
    TopTools_IndexedMapOfShape edges;
    TopExp::MapShapes(body, TopAbs_EDGE, edges);
    for (int i = 1; i <= edges.Extent(); ++i) {
        const TopoDS_Edge& edge = TopoDS::Edge(edges(i));
        if (std::abs(BRep_Tool::Pnt(TopExp::FirstVertex(edge)).Z()) < 1e-9 &&
            std::abs(BRep_Tool::Pnt(TopExp::LastVertex(edge)).Z()) < 1e-9)
            fillet.Add(radius, edge);
    }
    return fillet.Shape();
}

TopoDS_Shape twisted(double turn, double thickness) {
    BRepOffsetAPI_ThruSections loft(Standard_True, Standard_False);
    for (int i = 0; i <= 8; ++i) {
        const double a = turn * i / 8.0, c = std::cos(a), s = std::sin(a), t = 0.5 * thickness;
        BRepBuilderAPI_MakeWire wire;
        std::vector<gp_Pnt> corners;
        for (const auto& [y, z] :
             {std::pair{-10.0, -t}, std::pair{10.0, -t}, std::pair{10.0, t}, std::pair{-10.0, t}})
            corners.emplace_back(10.0 * i, y * c - z * s, y * s + z * c);
        for (std::size_t k = 0; k < 4; ++k)
            wire.Add(BRepBuilderAPI_MakeEdge(corners[k], corners[(k + 1) % 4]).Edge());
        loft.AddWire(wire.Wire());
    }
    return loft.Shape();
}

TopoDS_Shape between_circles(double lower, double upper, double aside) {
    BRepOffsetAPI_ThruSections loft(Standard_True, Standard_False);
    for (const auto& [x, z, radius] : {std::tuple{0.0, 0.0, lower}, std::tuple{aside, 40.0, upper}})
        loft.AddWire(
            BRepBuilderAPI_MakeWire(
                BRepBuilderAPI_MakeEdge(gp_Circ(gp_Ax2(gp_Pnt(x, 0, z), gp_Dir(0, 0, 1)), radius))
                    .Edge())
                .Wire());
    return loft.Shape();
}

/// A wall with a collar drawn up round a hole, in a sheet of 1 mm with a bend elsewhere.
TopoDS_Shape with_collar(double radius) {
    const double t = 1.0, hole = 6.0, s = std::sqrt(0.5);
    const gp_Pnt a(hole + t + radius, 0, t), b(hole + t, 0, t + radius),
        c(hole + t, 0, t + radius + 4), d(hole, 0, t + radius + 4), e(hole, 0, t + radius),
        f(hole + t + radius, 0, 0);
    const gp_Pnt outer(hole + t + radius * (1 - s), 0, t + radius * (1 - s));
    const gp_Pnt inner(hole + (radius + t) * (1 - s), 0, (radius + t) * (1 - s));
    BRepBuilderAPI_MakeWire wire;
    wire.Add(BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(a, outer, b).Value()).Edge());
    wire.Add(BRepBuilderAPI_MakeEdge(b, c).Edge());
    wire.Add(BRepBuilderAPI_MakeEdge(c, d).Edge());
    wire.Add(BRepBuilderAPI_MakeEdge(d, e).Edge());
    wire.Add(BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(e, inner, f).Value()).Edge());
    wire.Add(BRepBuilderAPI_MakeEdge(f, a).Edge());
    TopoDS_Shape collar = BRepPrimAPI_MakeRevol(BRepBuilderAPI_MakeFace(wire.Wire()).Face(),
                                                gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)))
                              .Shape();
    gp_Trsf move;
    move.SetTranslation(gp_Vec(30, 30, 0));
    collar.Move(TopLoc_Location(move));
    const TopoDS_Shape plate = sheets::strip(t, 60.0, 60.0, {{right_angle, true, 3.0, 20.0}});
    return fused(cut(plate, cylinder(30, 30, -1, hole + t + radius, 4)), collar);
}

/// A wall with a dome pressed out of it, cut open at one side or whole.
TopoDS_Shape with_dome(double size, bool is_open) {
    const double t = 1.0;
    const TopoDS_Shape outer = BRepPrimAPI_MakeSphere(gp_Pnt(30, 30, 0), size + t).Shape();
    const TopoDS_Shape inner = BRepPrimAPI_MakeSphere(gp_Pnt(30, 30, 0), size).Shape();
    TopoDS_Shape shell = cut(cut(outer, inner), box(0, 0, -40, 60, 60, 40));
    if (is_open) shell = cut(shell, box(0, 0, 0, 60, 30, 40));
    const TopoDS_Shape plate = sheets::strip(t, 60.0, 60.0, {{right_angle, true, 3.0, 20.0}});
    return fused(cut(plate, inner), shell);
}

/// A strip of the wall between two slits, bent up and down again: a bridge.
TopoDS_Shape with_bridge(double angle) {
    const double t = 1.0;
    TopoDS_Shape bridge = sheets::strip(t, 10.0, 0.0,
                                        {{angle, true, 2.0, 4.0},
                                         {angle, false, 2.0, 8.0},
                                         {angle, false, 2.0, 4.0},
                                         {angle, true, 2.0, 0.0}});
    Bnd_Box bounds;
    BRepBndLib::AddOptimal(bridge, bounds, Standard_False, Standard_False);
    double x0, y0, z0, x1, y1, z1;
    bounds.Get(x0, y0, z0, x1, y1, z1);
    gp_Trsf move;
    move.SetTranslation(gp_Vec(10.0 - x0, 20.0, 0.0));
    bridge.Move(TopLoc_Location(move));
    const TopoDS_Shape plate = sheets::strip(t, 60.0, 80.0, {{right_angle, true, 3.0, 20.0}});
    // Wider than the bridge, so that it hangs at both ends only.
    return fused(cut(plate, box(10.0, 18.0, -1.0, x1 - x0, 14.0, 4.0)), bridge);
}

}  // namespace

TopoDS_Shape box(double x, double y, double z, double dx, double dy, double dz) {
    return BRepPrimAPI_MakeBox(gp_Pnt(x, y, z), dx, dy, dz).Shape();
}

TopoDS_Shape cylinder(double x, double y, double z, double radius, double height) {
    return BRepPrimAPI_MakeCylinder(upright(x, y, z), radius, height).Shape();
}

TopoDS_Shape cut(const TopoDS_Shape& body, const TopoDS_Shape& tool) {
    return BRepAlgoAPI_Cut(body, tool).Shape();
}

TopoDS_Shape fused(const TopoDS_Shape& body, const TopoDS_Shape& tool) {
    return BRepAlgoAPI_Fuse(body, tool).Shape();
}

TopoDS_Shape prism(const std::vector<std::pair<double, double>>& section, double width) {
    std::vector<gp_Pnt> corners;
    for (const auto& [x, z] : section) corners.emplace_back(x, 0.0, z);
    return BRepPrimAPI_MakePrism(polygon(corners), gp_Vec(0, width, 0)).Shape();
}

TopoDS_Shape rounded(const TopoDS_Shape& body,
                     const std::vector<std::pair<std::pair<double, double>, double>>& rounds) {
    BRepFilletAPI_MakeFillet fillet(body);
    TopTools_IndexedMapOfShape edges;
    TopExp::MapShapes(body, TopAbs_EDGE, edges);
    for (int i = 1; i <= edges.Extent(); ++i) {
        const TopoDS_Edge& edge = TopoDS::Edge(edges(i));
        const gp_Pnt a = BRep_Tool::Pnt(TopExp::FirstVertex(edge));
        const gp_Pnt b = BRep_Tool::Pnt(TopExp::LastVertex(edge));
        if (std::abs(a.Y() - b.Y()) < 1.0) continue;
        for (const auto& [place, radius] : rounds)
            if (std::hypot(a.X() - place.first, a.Z() - place.second) < 1e-9)
                fillet.Add(radius, edge);
    }
    return fillet.Shape();
}

std::vector<Body> flat_sheets() {
    const auto reason = NotUnfolded::no_bend;
    return {
        {"plate", box(0, 0, 0, 100, 60, 2), reason},
        {"plate with a hole", cut(box(0, 0, 0, 100, 60, 2), cylinder(30, 30, -1, 8, 4)), reason},
        {"disc", cylinder(0, 0, 0, 30, 3), reason},
        {"washer", cut(cylinder(0, 0, 0, 30, 3), cylinder(0, 0, -1, 10, 5)), reason},
        {"flat L", fused(box(0, 0, 0, 100, 20, 2), box(0, 0, 0, 20, 80, 2)), reason},
    };
}

std::vector<Body> blocks_and_turned_parts() {
    const auto reason = NotUnfolded::no_sheet;
    return {
        {"block", box(0, 0, 0, 20, 30, 40), reason},
        {"cube", box(0, 0, 0, 20, 20, 20), reason},
        {"rod", cylinder(0, 0, 0, 10, 60), reason},
        {"stepped shaft", turned({{0, 0}, {20, 0}, {20, 15}, {10, 15}, {10, 60}, {0, 60}}), reason},
        {"ball", BRepPrimAPI_MakeSphere(20.0).Shape(), reason},
        {"ring of round wire", BRepPrimAPI_MakeTorus(20.0, 5.0).Shape(), reason},
        {"cone", cone(0, 20.0, 5.0, 30.0), reason},
        {"wedge", prism({{0, 0}, {60, 0}, {0, 25}}, 40.0), reason},
        {"loft between circles", between_circles(20.0, 10.0, 5.0), reason},
        {"loft between circles, wider", between_circles(20.0, 15.0, 5.0), reason},
    };
}

std::vector<Body> castings() {
    // An angle with a gusset and feet of another thickness; a housing with a boss.
    const TopoDS_Shape angle = bracket(8.0);
    return {
        {"cast angle with a gusset", fused(angle, prism({{10, 8}, {43, 8}, {43, 38}}, 6.0)),
         NotUnfolded::not_one_thickness},
        {"cast angle with two bosses",
         fused(fused(angle, cylinder(15, 15, 7, 7, 8)), cylinder(15, 35, 7, 7, 8)),
         NotUnfolded::not_one_thickness},
        {"flanged bush", turned({{5, 0}, {20, 0}, {20, 5}, {10, 8}, {10, 30}, {5, 30}}),
         NotUnfolded::not_one_thickness},
        {"plate with a post", fused(box(0, 0, 0, 80, 60, 10), cylinder(40, 30, 5, 15, 40)),
         NotUnfolded::not_one_thickness},
        {"bearing block",
         cut(fused(box(0, 0, 0, 80, 30, 12), box(20, 0, 0, 40, 30, 50)),
             cylinder(40, 15, -1, 9, 60)),
         NotUnfolded::no_sheet},
    };
}

std::vector<Body> tubes_and_boxes() {
    const auto reason = NotUnfolded::closed_ring;
    std::vector<Body> bodies;
    for (const double wall : {0.5, 1.0, 3.0})
        bodies.push_back({"round tube",
                          cut(cylinder(0, 0, 0, 20, 60), cylinder(0, 0, -1, 20 - wall, 62)),
                          reason});
    for (const double radius : {2.0, 5.0})
        bodies.push_back({"square tube",
                          cut(rounded_box(40.0, radius + 1.5), rounded_box(37.0, radius)), reason});
    bodies.push_back({"square tube with sharp corners",
                      cut(box(0, 0, 0, 40, 40, 90), box(2, 2, -1, 36, 36, 92)), reason});
    const double aside = 1.0 / std::cos(std::atan2(20.0, 40.0));
    bodies.push_back({"cone without a gap",
                      cut(cone(0, 30.0, 10.0, 40.0), cone(0, 30.0 - aside, 10.0 - aside, 40.0)),
                      reason});
    const TopoDS_Shape hollow = cut(box(0, 0, 0, 60, 40, 30), box(1, 1, 1, 58, 38, 28));
    bodies.push_back({"closed box", hollow, reason});
    bodies.push_back({"closed box with a hole", cut(hollow, cylinder(30, 20, 25, 5, 10)), reason});
    bodies.push_back({"open box", cut(box(0, 0, 0, 60, 40, 30), box(1, 1, 1, 58, 38, 40)), reason});
    bodies.push_back(
        {"tube with a round window",
         cut(cut(cylinder(0, 0, 0, 20, 60), cylinder(0, 0, -1, 19, 62)),
             BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, 30), gp_Dir(1, 0, 0)), 6.0, 40.0)
                 .Shape()),
         reason});
    return bodies;
}

std::vector<Body> drawn_and_twisted_sheets() {
    const auto reason = NotUnfolded::not_developable;
    std::vector<Body> bodies;
    for (const double radius : {3.0, 6.0, 10.0})
        bodies.push_back(
            {"cup", shelled(rounded_below(cylinder(0, 0, 0, 30, 25), radius), 25.0, 1.0), reason});
    bodies.push_back(
        {"square pan", shelled(rounded_below(rounded_box(60.0, 10.0), 6.0), 80.0, 1.0), reason});
    for (const double thickness : {0.5, 1.0, 2.0})
        bodies.push_back({"dome",
                          cut(cut(BRepPrimAPI_MakeSphere(30.0).Shape(),
                                  BRepPrimAPI_MakeSphere(30.0 - thickness).Shape()),
                              box(-40, -40, -40, 80, 80, 50)),
                          reason});
    bodies.push_back({"half a hollow ring",
                      cut(cut(BRepPrimAPI_MakeTorus(40.0, 10.0).Shape(),
                              BRepPrimAPI_MakeTorus(40.0, 9.0).Shape()),
                          box(-60, -60, 0, 120, 120, 20)),
                      reason});
    for (const double turn : {30.0, 60.0, 120.0})
        bodies.push_back({"twisted strip", twisted(turn * degree, 1.0), reason});
    return bodies;
}

std::vector<Body> brackets_of_two_thicknesses() {
    const auto reason = NotUnfolded::not_one_thickness;
    const TopoDS_Shape plain = bracket();
    const auto ring = cut(fused(plain, cylinder(20, 25, 1, 6, 5)), cylinder(20, 25, -1, 3, 10));
    return {
        {"boss inside", fused(plain, cylinder(20, 25, 1, 6, 5)), reason},
        {"boss outside", fused(plain, cylinder(20, 25, -4, 6, 5)), reason},
        {"welded nut", ring, reason},
        {"rib", fused(plain, box(10, 10, 1, 20, 4, 6)), reason},
        {"rib across the bend", fused(plain, box(25, 20, 1, 19, 4, 20)), reason},
        {"doubled wall", fused(plain, box(5, 0, 1, 20, 50, 1.5)), reason},
        {"thick foot", fused(plain, box(0, 0, -1, 10, 50, 2)), reason},
        {"round pocket", cut(plain, cylinder(20, 25, 1.2, 6, 5)), reason},
        {"round pocket outside", cut(plain, cylinder(20, 25, -1, 6, 1.5)), reason},
        {"groove", cut(plain, box(10, -1, 1, 8, 60, 5)), reason},
        {"step in the wall", cut(plain, box(-1, -1, 1.5, 20, 60, 5)), reason},
        {"thinned corner", cut(plain, box(-1, -1, 1, 8, 20, 5)), reason},
        {"shallow pocket", cut(plain, box(15, 15, 1.9, 10, 10, 5)), reason},
        {"hollow within", cut(bracket(6.0), box(10, 10, 2, 10, 10, 2)), reason},
        {"walls of 2 and 3 mm", prism({{0, 0}, {60, 0}, {60, 50}, {57, 50}, {57, 2}, {0, 2}}, 40.0),
         reason},
    };
}

std::vector<Body> formed_walls() {
    const auto reason = NotUnfolded::lip_or_louvre;
    return {
        {"collar", with_collar(2.0), reason},
        {"wide collar", with_collar(4.0), reason},
        {"louvre", with_dome(6.0, true), reason},
        {"wide louvre", with_dome(9.0, true), reason},
        {"bead", with_dome(7.0, false), reason},
        {"bridge", with_bridge(45.0 * degree), reason},
        {"steep bridge", with_bridge(70.0 * degree), reason},
    };
}

std::vector<Body> corners_without_room() {
    const auto reason = NotUnfolded::sharp_corner;
    // With an inside radius of 2 mm the round outside takes 4 mm of each leg.
    return {
        {"L with a leg too short to bend",
         prism({{0, 0}, {50, 0}, {50, 2}, {2, 2}, {2, 3.5}, {0, 3.5}}, 30.0), reason},
        {"U with a base too narrow to bend",
         prism({{0, 0}, {6, 0}, {6, 40}, {4, 40}, {4, 2}, {2, 2}, {2, 40}, {0, 40}}, 30.0), reason},
    };
}

std::vector<Body> overlapping() {
    std::vector<Body> bodies;
    // Flanges that share a corner of the blank: from the side of the first a wall goes on and round
    // the corner, below in space.
    for (const double length : {25.0, 30.0, 35.0}) {
        BentSheet sheet(1.0, 0.4, 60.0, 60.0);
        const int right = sheet.attach(0, 0, 5.0, 55.0, {right_angle, true, 2.0, length});
        sheet.attach(0, 1, 5.0, 55.0, {right_angle, true, 2.0, length});
        const int side =
            sheet.attach(right, 1, 4.0, length - 4.0, {30.0 * degree, false, 1.0, 40.0});
        sheet.attach(side, 1, 10.0, 30.0, {30.0 * degree, false, 1.0, 40.0});
        REQUIRE(sheets::volume(sheet.body()) == doctest::Approx(sheet.volume_of_pieces()));
        REQUIRE(sheet.outline().area() < sheet.area_of_pieces() - 1.0);
        bodies.push_back({"flange round a corner", sheet.body(), NotUnfolded::overlaps});
    }
    return bodies;
}

}  // namespace refused
