/// Bodies that no flat sheet bends to, and why each is refused.

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
#include <algorithm>
#include <cmath>
#include <gp_Ax2.hxx>
#include <gp_Circ.hxx>

#include "unfold/sheets.hpp"

using namespace planform;
using sheets::BentSheet;
using sheets::Flange;

namespace {

constexpr double degree = pi / 180.0;

TopoDS_Shape box(const gp_Pnt& corner, double x, double y, double z) {
    return BRepPrimAPI_MakeBox(corner, x, y, z).Shape();
}

TopoDS_Shape cylinder(const gp_Pnt& base, double radius, double height) {
    return BRepPrimAPI_MakeCylinder(gp_Ax2(base, gp_Dir(0, 0, 1)), radius, height).Shape();
}

TopoDS_Shape cut(const TopoDS_Shape& body, const TopoDS_Shape& tool) {
    return BRepAlgoAPI_Cut(body, tool).Shape();
}

TopoDS_Shape fuse(const TopoDS_Shape& body, const TopoDS_Shape& tool) {
    return BRepAlgoAPI_Fuse(body, tool).Shape();
}

void check(const TopoDS_Shape& body, NotUnfolded reason) {
    const UnfoldRefusal refusal = sheets::refused(body);
    CHECK_MESSAGE(refusal.reason == reason, word_for(refusal.reason), ": ", refusal.text);
    CHECK(refusal.text.size() > 20);
}

void check_any(const TopoDS_Shape& body, std::initializer_list<NotUnfolded> reasons) {
    const UnfoldRefusal refusal = sheets::refused(body);
    CHECK_MESSAGE(std::find(reasons.begin(), reasons.end(), refusal.reason) != reasons.end(),
                  word_for(refusal.reason), ": ", refusal.text);
}

/// The section turned about the z axis.
TopoDS_Shape turned(const std::vector<std::pair<double, double>>& corners, double angle) {
    BRepBuilderAPI_MakeWire wire;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const auto& [x, z] = corners[i];
        const auto& [next_x, next_z] = corners[(i + 1) % corners.size()];
        wire.Add(BRepBuilderAPI_MakeEdge(gp_Pnt(x, 0, z), gp_Pnt(next_x, 0, next_z)).Edge());
    }
    const gp_Ax1 axis(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1));
    const TopoDS_Face face = BRepBuilderAPI_MakeFace(wire.Wire()).Face();
    return angle >= 2.0 * pi ? BRepPrimAPI_MakeRevol(face, axis).Shape()
                             : BRepPrimAPI_MakeRevol(face, axis, angle).Shape();
}

/// An L of the thickness, bent about y at x = 40.
TopoDS_Shape bracket(double thickness = 2.0) {
    return sheets::strip(thickness, 50.0, 40.0, {{90.0 * degree, true, 3.0, 30.0}});
}

}  // namespace

TEST_CASE("flat sheets and blocks have no bend") {
    check(box({0, 0, 0}, 100, 60, 2), NotUnfolded::no_bend);
    check(box({0, 0, 0}, 20, 30, 40), NotUnfolded::no_bend);
    check(cut(box({0, 0, 0}, 100, 60, 2), cylinder({30, 30, -1}, 8, 4)), NotUnfolded::no_bend);
    check(cylinder({0, 0, 0}, 30, 3), NotUnfolded::no_bend);
}

TEST_CASE("welded tubes and hollow sections go round and close") {
    for (const double wall : {0.5, 1.0, 3.0})
        check(cut(cylinder({0, 0, 0}, 20, 60), cylinder({0, 0, -1}, 20 - wall, 62)),
              NotUnfolded::closed_ring);
    // A square section with rounded corners, in one piece.
    for (const double radius : {2.0, 5.0}) {
        const auto rounded = [&](double size, double r) {
            const TopoDS_Shape body = box({-size / 2, -size / 2, 0}, size, size, 80);
            BRepFilletAPI_MakeFillet corners(body);
            TopTools_IndexedMapOfShape own;
            TopExp::MapShapes(body, TopAbs_EDGE, own);
            for (int i = 1; i <= own.Extent(); ++i) {
                const TopoDS_Edge& edge = TopoDS::Edge(own(i));
                const gp_Pnt a = BRep_Tool::Pnt(TopExp::FirstVertex(edge));
                const gp_Pnt b = BRep_Tool::Pnt(TopExp::LastVertex(edge));
                if (std::abs(a.Z() - b.Z()) > 1.0) corners.Add(r, edge);
            }
            return TopoDS_Shape(corners.Shape());
        };
        check(cut(rounded(40.0, radius + 1.5), rounded(37.0, radius)), NotUnfolded::closed_ring);
    }
    // A cone without a gap.
    const TopoDS_Shape outer = BRepPrimAPI_MakeCone(30.0, 10.0, 40.0).Shape();
    const double slope = std::atan2(20.0, 40.0);
    const double aside = 1.0 / std::cos(slope);
    const TopoDS_Shape inner = BRepPrimAPI_MakeCone(30.0 - aside, 10.0 - aside, 40.0).Shape();
    check(cut(outer, inner), NotUnfolded::closed_ring);
}

TEST_CASE("closed boxes") {
    // Shelled: sharp corners throughout, and with a hole in the lid.
    const TopoDS_Shape hollow = cut(box({0, 0, 0}, 60, 40, 30), box({1, 1, 1}, 58, 38, 28));
    check(hollow, NotUnfolded::not_one_thickness);
    check(cut(hollow, cylinder({30, 20, 25}, 5, 10)), NotUnfolded::not_one_thickness);
    // Open at the top: four walls with sharp corners.
    check(cut(box({0, 0, 0}, 60, 40, 30), box({1, 1, 1}, 58, 38, 40)),
          NotUnfolded::not_one_thickness);
}

TEST_CASE("drawn parts are curved two ways") {
    // Cups: the bottom goes over into the wall by a torus.
    for (const double radius : {3.0, 6.0, 10.0}) {
        const TopoDS_Shape body = cylinder({0, 0, 0}, 30, 25);
        BRepFilletAPI_MakeFillet outside(body);
        for (TopExp_Explorer edge(body, TopAbs_EDGE); edge.More(); edge.Next()) {
            const gp_Pnt place = BRep_Tool::Pnt(TopExp::FirstVertex(TopoDS::Edge(edge.Current())));
            const gp_Pnt other = BRep_Tool::Pnt(TopExp::LastVertex(TopoDS::Edge(edge.Current())));
            if (place.Z() < 1e-9 && other.Z() < 1e-9) {
                outside.Add(radius, TopoDS::Edge(edge.Current()));
                break;
            }
        }
        BRepOffsetAPI_MakeThickSolid shell;
        TopTools_ListOfShape open;
        for (TopExp_Explorer face(outside.Shape(), TopAbs_FACE); face.More(); face.Next()) {
            Bnd_Box bounds;
            BRepBndLib::Add(face.Current(), bounds);
            double x0, y0, z0, x1, y1, z1;
            bounds.Get(x0, y0, z0, x1, y1, z1);
            if (z0 > 24.0) open.Append(face.Current());
        }
        REQUIRE(open.Extent() == 1);
        shell.MakeThickSolidByJoin(outside.Shape(), open, -1.0, 1e-5);
        check_any(shell.Shape(), {NotUnfolded::not_developable, NotUnfolded::closed_ring});
    }
    // Domes and half a ring.
    for (const double thickness : {0.5, 1.0, 2.0}) {
        const TopoDS_Shape dome = cut(BRepPrimAPI_MakeSphere(30.0).Shape(),
                                      BRepPrimAPI_MakeSphere(30.0 - thickness).Shape());
        check(cut(dome, box({-40, -40, -40}, 80, 80, 50)), NotUnfolded::not_one_thickness);
    }
    const TopoDS_Shape ring =
        cut(BRepPrimAPI_MakeTorus(40.0, 10.0).Shape(), BRepPrimAPI_MakeTorus(40.0, 9.0).Shape());
    check(cut(ring, box({-60, -60, 0}, 120, 120, 20)), NotUnfolded::not_one_thickness);
}

TEST_CASE("lofts and twisted strips") {
    for (const double turn : {10.0, 30.0, 60.0}) {
        BRepOffsetAPI_ThruSections loft(Standard_True, Standard_False);
        for (const double x : {0.0, 40.0, 80.0}) {
            const double a = turn * degree * x / 80.0;
            BRepBuilderAPI_MakeWire wire;
            std::vector<gp_Pnt> corners;
            for (const auto& [y, z] : {std::pair{-10.0, -1.0}, std::pair{10.0, -1.0},
                                       std::pair{10.0, 1.0}, std::pair{-10.0, 1.0}})
                corners.emplace_back(x, y * std::cos(a) - z * std::sin(a),
                                     y * std::sin(a) + z * std::cos(a));
            for (std::size_t i = 0; i < 4; ++i)
                wire.Add(BRepBuilderAPI_MakeEdge(corners[i], corners[(i + 1) % 4]).Edge());
            loft.AddWire(wire.Wire());
        }
        check_any(loft.Shape(), {NotUnfolded::not_one_thickness, NotUnfolded::no_bend});
    }
    // Round below, square above.
    for (const double size : {20.0, 30.0}) {
        BRepOffsetAPI_ThruSections loft(Standard_True, Standard_False);
        loft.AddWire(BRepBuilderAPI_MakeWire(
            BRepBuilderAPI_MakeEdge(gp_Circ(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)), 20.0))
                .Edge()));
        loft.AddWire(BRepBuilderAPI_MakeWire(
            BRepBuilderAPI_MakeEdge(gp_Circ(gp_Ax2(gp_Pnt(5, 0, 40), gp_Dir(0, 0, 1)), size / 2))
                .Edge()));
        check_any(loft.Shape(), {NotUnfolded::not_one_thickness, NotUnfolded::no_bend});
    }
}

TEST_CASE("castings and machined blocks") {
    // An angle with a gusset, ribs, a boss, a foot of another thickness.
    const TopoDS_Shape angle = fuse(box({0, 0, 0}, 50, 40, 8), box({0, 0, 0}, 8, 40, 50));
    check_any(angle, {NotUnfolded::no_bend, NotUnfolded::not_one_thickness});
    check_any(fuse(angle, box({8, 16, 8}, 20, 8, 20)),
              {NotUnfolded::no_bend, NotUnfolded::not_one_thickness});
    // In one piece, sharp inside and outside.
    BRepBuilderAPI_MakeWire wire;
    const std::vector<gp_Pnt> corners{{0, 0, 0}, {50, 0, 0}, {50, 0, 8},
                                      {8, 0, 8}, {8, 0, 50}, {0, 0, 50}};
    for (std::size_t i = 0; i < corners.size(); ++i)
        wire.Add(BRepBuilderAPI_MakeEdge(corners[i], corners[(i + 1) % corners.size()]).Edge());
    check(BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(wire.Wire()).Face(), gp_Vec(0, 40, 0))
              .Shape(),
          NotUnfolded::not_one_thickness);
    check_any(fuse(box({0, 0, 0}, 80, 60, 10), cylinder({40, 30, 0}, 15, 40)),
              {NotUnfolded::no_bend, NotUnfolded::not_one_thickness});
    check_any(turned({{5, 0}, {20, 0}, {20, 5}, {10, 8}, {10, 30}, {5, 30}}, 2.0 * pi),
              {NotUnfolded::not_one_thickness, NotUnfolded::no_bend, NotUnfolded::closed_ring});
    check_any(BRepPrimAPI_MakeSphere(20.0).Shape(), {NotUnfolded::not_one_thickness});
    check_any(BRepPrimAPI_MakeTorus(20.0, 5.0).Shape(), {NotUnfolded::not_one_thickness});
    check_any(BRepPrimAPI_MakeCone(20.0, 5.0, 30.0).Shape(),
              {NotUnfolded::not_one_thickness, NotUnfolded::no_bend});
}

TEST_CASE("brackets that are thicker somewhere") {
    // Bosses, welded nuts, ribs, gussets: on either wall and across the bend.
    check(fuse(bracket(), cylinder({20, 25, 1}, 6, 5)), NotUnfolded::not_one_thickness);
    check(fuse(bracket(), cylinder({20, 25, -4}, 6, 5)), NotUnfolded::not_one_thickness);
    check(cut(fuse(bracket(), cylinder({20, 25, 1}, 6, 5)), cylinder({20, 25, -1}, 3, 10)),
          NotUnfolded::not_one_thickness);
    check(fuse(bracket(), box({10, 10, 1}, 20, 4, 6)), NotUnfolded::not_one_thickness);
    check(fuse(bracket(), box({25, 20, 1}, 19, 4, 20)), NotUnfolded::not_one_thickness);
    check(fuse(bracket(), box({5, 0, 1}, 20, 50, 1.5)), NotUnfolded::not_one_thickness);
    check(fuse(bracket(), box({0, 0, -1}, 10, 50, 2)), NotUnfolded::not_one_thickness);
}

TEST_CASE("brackets that are thinner somewhere") {
    check(cut(bracket(), cylinder({20, 25, 1.2}, 6, 5)), NotUnfolded::not_one_thickness);
    check(cut(bracket(), cylinder({20, 25, -1}, 6, 1.5)), NotUnfolded::not_one_thickness);
    check(cut(bracket(), box({10, -1, 1}, 8, 60, 5)), NotUnfolded::not_one_thickness);
    check(cut(bracket(), box({-1, -1, 1.5}, 20, 60, 5)), NotUnfolded::not_one_thickness);
    check(cut(bracket(), box({-1, -1, 1}, 8, 20, 5)), NotUnfolded::not_one_thickness);
    check(cut(bracket(), box({15, 15, 1.9}, 10, 10, 5)), NotUnfolded::not_one_thickness);
    // A hollow within.
    check(cut(bracket(6.0), box({10, 10, 2}, 10, 10, 2)), NotUnfolded::not_one_thickness);
}

TEST_CASE("bends whose sides have no common axis") {
    for (const double outer_radius : {1.5, 2.0, 3.0, 8.0}) {
        // Outside rounded with another radius than inside and thickness make.
        BRepBuilderAPI_MakeWire wire;
        const double t = 2.0, r = 3.0;
        const std::vector<gp_Pnt> corners{{0, 0, 0},       {50, 0, 0},     {50, 0, 40},
                                          {50 - t, 0, 40}, {50 - t, 0, t}, {0, 0, t}};
        for (std::size_t i = 0; i < corners.size(); ++i)
            wire.Add(BRepBuilderAPI_MakeEdge(corners[i], corners[(i + 1) % corners.size()]).Edge());
        const TopoDS_Shape body =
            BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(wire.Wire()).Face(), gp_Vec(0, 30, 0))
                .Shape();
        BRepFilletAPI_MakeFillet fillet(body);
        for (TopExp_Explorer edge(body, TopAbs_EDGE); edge.More(); edge.Next()) {
            const gp_Pnt a = BRep_Tool::Pnt(TopExp::FirstVertex(TopoDS::Edge(edge.Current())));
            const gp_Pnt b = BRep_Tool::Pnt(TopExp::LastVertex(TopoDS::Edge(edge.Current())));
            if (std::abs(a.Y() - b.Y()) < 1.0 || std::abs(a.X() - b.X()) > 1e-9) continue;
            if (std::abs(a.X() - 50) < 1e-9 && std::abs(a.Z()) < 1e-9)
                fillet.Add(outer_radius, TopoDS::Edge(edge.Current()));
            if (std::abs(a.X() - (50 - t)) < 1e-9 && std::abs(a.Z() - t) < 1e-9)
                fillet.Add(r, TopoDS::Edge(edge.Current()));
        }
        check(fillet.Shape(), NotUnfolded::not_one_thickness);
    }
}

TEST_CASE("collars and louvres formed within a wall") {
    // A collar drawn up round a hole: inner and outer round, then a short tube.
    for (const double radius : {2.0, 4.0}) {
        const double t = 1.0;
        const TopoDS_Shape plate = sheets::strip(t, 60.0, 60.0, {{90.0 * degree, true, 3.0, 20.0}});
        BRepBuilderAPI_MakeWire wire;
        const double hole = 6.0;
        // Section of the collar: from the plate's level up to a tube of inner radius `hole`.
        const gp_Pnt a(hole + t + radius, 0, t), b(hole + t, 0, t + radius),
            c(hole + t, 0, t + radius + 4), d(hole, 0, t + radius + 4), e(hole, 0, t + radius),
            f(hole + t + radius, 0, 0);
        const double s = std::sqrt(0.5);
        const gp_Pnt outer(hole + t + radius * (1 - s), 0, t + radius * (1 - s));
        const gp_Pnt inner(hole + (radius + t) * (1 - s), 0, (radius + t) * (1 - s));
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
        const TopoDS_Shape body =
            fuse(cut(plate, cylinder({30, 30, -1}, hole + t + radius, 4)), collar);
        check(body, NotUnfolded::lip_or_louvre);
    }
    // Half a dome pressed out of the wall.
    for (const double size : {6.0, 9.0}) {
        const double t = 1.0;
        const TopoDS_Shape plate = sheets::strip(t, 60.0, 60.0, {{90.0 * degree, true, 3.0, 20.0}});
        const TopoDS_Shape outer = BRepPrimAPI_MakeSphere(gp_Pnt(30, 30, 0), size + t).Shape();
        const TopoDS_Shape inner = BRepPrimAPI_MakeSphere(gp_Pnt(30, 30, 0), size).Shape();
        const TopoDS_Shape half = box({0, 0, 0}, 60, 30, 40);
        const TopoDS_Shape shell =
            BRepAlgoAPI_Cut(cut(outer, inner), box({0, 0, -40}, 60, 60, 40)).Shape();
        const TopoDS_Shape open = cut(shell, half);
        const TopoDS_Shape body = fuse(cut(plate, inner), open);
        check_any(body, {NotUnfolded::lip_or_louvre, NotUnfolded::not_one_thickness});
    }
}

TEST_CASE("blanks that would lie on themselves") {
    // Flanges that share a corner of the blank: each longer than the other leaves room.
    for (const double length : {25.0, 35.0}) {
        BentSheet sheet(1.0, 0.4, 60.0, 60.0);
        const int right = sheet.attach(0, 0, 5.0, 55.0, {90.0 * degree, true, 2.0, length});
        sheet.attach(0, 1, 5.0, 55.0, {90.0 * degree, true, 2.0, length});
        // From the side of the first a wall goes on and round the corner, below in space.
        const int side =
            sheet.attach(right, 1, 4.0, length - 4.0, {30.0 * degree, false, 1.0, 40.0});
        sheet.attach(side, 1, 10.0, 30.0, {30.0 * degree, false, 1.0, 40.0});
        REQUIRE(sheets::volume(sheet.body()) == doctest::Approx(sheet.volume_of_pieces()));
        REQUIRE(sheet.outline().area() < sheet.area_of_pieces() - 1.0);
        const UnfoldRefusal refusal = sheets::refused(sheet.body());
        CHECK_MESSAGE(refusal.reason == NotUnfolded::overlaps, refusal.text);
        REQUIRE(refusal.overlap.has_value());
        CHECK(refusal.overlap->area() > 1.0);
        CHECK(refusal.outline.has_value());
        CHECK(refusal.place.has_value());
    }
}
