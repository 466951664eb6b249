/// Planes in and beside faces, tangent planes, planes through vertices and along edges: the
/// expected output on both sides.

#include <doctest/doctest.h>

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRepPrimAPI_MakeWedge.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <GeomAPI_PointsToBSpline.hxx>
#include <Geom_BSplineCurve.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Vertex.hxx>
#include <cmath>
#include <gp_Trsf.hxx>
#include <random>
#include <string>

#include "flatten/bodies.hpp"

using namespace planform;

namespace {

struct Expected {
    double below;  ///< area of the section, mm^2
    double above;
};

struct Case {
    std::string name;
    TopoDS_Shape shape;
    Point3 origin;
    Vector3 normal;
    Expected area;
};

gp_Ax2 upright(double x, double y, double z) { return {gp_Pnt(x, y, z), gp_Dir(0, 0, 1)}; }

/// A box of 20 x 10 x 6 with a step: the half x > 10 only 2 high.
TopoDS_Shape stair() {
    return BRepAlgoAPI_Cut(BRepPrimAPI_MakeBox(20.0, 10.0, 6.0).Shape(),
                           BRepPrimAPI_MakeBox(gp_Pnt(10, -1, 2), gp_Pnt(21, 11, 7)).Shape());
}

/// A box of 20 x 10 x 6 with a blind round pocket of radius 3 down to z = 2.
TopoDS_Shape pocketed_box() {
    return BRepAlgoAPI_Cut(BRepPrimAPI_MakeBox(20.0, 10.0, 6.0).Shape(),
                           BRepPrimAPI_MakeCylinder(upright(10, 5, 2), 3.0, 10.0).Shape());
}

/// A box of 20 x 10 x 6 with its upper edges along Y rounded by 2.
TopoDS_Shape rounded_box() {
    const TopoDS_Shape box = BRepPrimAPI_MakeBox(20.0, 10.0, 6.0).Shape();
    BRepFilletAPI_MakeFillet fillet(box);
    for (TopExp_Explorer it(box, TopAbs_EDGE); it.More(); it.Next()) {
        const TopoDS_Edge edge = TopoDS::Edge(it.Current());
        TopoDS_Vertex a, b;
        TopExp::Vertices(edge, a, b);
        const gp_Pnt p = BRep_Tool::Pnt(a), q = BRep_Tool::Pnt(b);
        if (p.Z() > 5.0 && q.Z() > 5.0 && std::abs(p.X() - q.X()) < 1e-9) fillet.Add(2.0, edge);
    }
    return fillet.Shape();
}

/// A prism along Y of 10 whose top is a spline that is highest, z = 5, at x = 10, with horizontal
/// tangent.
TopoDS_Shape spline_hill() {
    TColgp_Array1OfPnt points(1, 5);
    const double x[] = {0, 5, 10, 15, 20}, z[] = {1, 4, 5, 4, 1};
    for (int i = 0; i < 5; ++i) points.SetValue(i + 1, gp_Pnt(x[i], 0, z[i]));
    const Handle(Geom_BSplineCurve) top = GeomAPI_PointsToBSpline(points).Curve();
    BRepBuilderAPI_MakeWire wire;
    wire.Add(BRepBuilderAPI_MakeEdge(gp_Pnt(0, 0, 0), gp_Pnt(0, 0, 1)).Edge());
    wire.Add(BRepBuilderAPI_MakeEdge(top).Edge());
    wire.Add(BRepBuilderAPI_MakeEdge(gp_Pnt(20, 0, 1), gp_Pnt(20, 0, 0)).Edge());
    wire.Add(BRepBuilderAPI_MakeEdge(gp_Pnt(20, 0, 0), gp_Pnt(0, 0, 0)).Edge());
    return BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(wire.Wire()).Face(), gp_Vec(0, 10, 0))
        .Shape();
}

const Vector3 up(0, 0, 1), across(1, 0, 0);

std::vector<Case> cases() {
    const TopoDS_Shape box = BRepPrimAPI_MakeBox(20.0, 10.0, 6.0).Shape();
    const TopoDS_Shape cylinder = BRepPrimAPI_MakeCylinder(5.0, 8.0).Shape();
    const TopoDS_Shape lying =
        BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, 5), gp_Dir(0, 1, 0)), 5.0, 12.0).Shape();
    const TopoDS_Shape sphere = BRepPrimAPI_MakeSphere(5.0).Shape();
    const TopoDS_Shape cone = BRepPrimAPI_MakeCone(6.0, 0.0, 12.0).Shape();
    const TopoDS_Shape frustum = BRepPrimAPI_MakeCone(6.0, 2.0, 8.0).Shape();
    const TopoDS_Shape torus = BRepPrimAPI_MakeTorus(10.0, 3.0).Shape();
    const TopoDS_Shape wedge = BRepPrimAPI_MakeWedge(20.0, 10.0, 6.0, 0.0).Shape();
    const TopoDS_Shape half_ball = BRepPrimAPI_MakeSphere(5.0, 0.0, pi / 2).Shape();
    const double root2 = std::sqrt(2.0);
    return {
        {"top face of a box", box, {0, 0, 6}, up, {200, 0}},
        {"bottom face of a box", box, {0, 0, 0}, up, {0, 200}},
        {"side face of a box", box, {20, 0, 0}, across, {60, 0}},
        {"along an edge of a box, outside", box, {20, 0, 6}, {1, 0, 1}, {0, 0}},
        {"along two edges of a box, through it",
         box,
         {0, 0, 0},
         {-6, 0, 20},
         {10 * std::hypot(20, 6), 10 * std::hypot(20, 6)}},
        {"through a corner of a box, outside", box, {20, 10, 6}, {1, 1, 1}, {0, 0}},
        {"through three corners of a cube",
         BRepPrimAPI_MakeBox(10.0, 10.0, 10.0).Shape(),
         {10, 0, 0},
         {1, 1, 1},
         {std::sqrt(3.0) / 4.0 * 200.0, std::sqrt(3.0) / 4.0 * 200.0}},
        {"step of a stair", stair(), {0, 0, 2}, up, {200, 100}},
        {"top of a stair", stair(), {0, 0, 6}, up, {100, 0}},
        {"riser of a stair", stair(), {10, 0, 0}, across, {60, 20}},
        {"floor of a pocket", pocketed_box(), {0, 0, 2}, up, {200, 200 - 9 * pi}},
        {"rim of a pocket", pocketed_box(), {0, 0, 6}, up, {200 - 9 * pi, 0}},
        {"top of a drilled plate",
         bodies::drilled_plate(),
         {0, 0, 3},
         up,
         {9600 - pi * (16 + 42.25) - 120 - 9 * pi, 0}},
        {"bottom of a drilled plate",
         bodies::drilled_plate(),
         {0, 0, 0},
         up,
         {0, 9600 - pi * (16 + 42.25) - 120 - 9 * pi}},
        {"flat between two rounded edges", rounded_box(), {0, 0, 6}, up, {160, 0}},
        {"where rounding and wall meet", rounded_box(), {0, 0, 4}, up, {200, 200}},
        {"wall that is tangent to a rounding", rounded_box(), {20, 0, 0}, across, {40, 0}},
        {"top of a cylinder", cylinder, {0, 0, 8}, up, {25 * pi, 0}},
        {"bottom of a cylinder", cylinder, {0, 0, 0}, up, {0, 25 * pi}},
        {"tangent to a cylinder at its seam", cylinder, {5, 0, 0}, across, {0, 0}},
        {"tangent to a cylinder opposite its seam", cylinder, {-5, 0, 0}, across, {0, 0}},
        {"tangent to a cylinder elsewhere", cylinder, {0, 5, 0}, {0, 1, 0}, {0, 0}},
        {"through the axis of a cylinder", cylinder, {0, 0, 0}, across, {80, 80}},
        {"tangent to a lying cylinder from above", lying, {0, 0, 10}, up, {0, 0}},
        {"tangent to a lying cylinder from below", lying, {0, 0, 0}, up, {0, 0}},
        {"pole of a sphere", sphere, {0, 0, 5}, up, {0, 0}},
        {"south pole of a sphere", sphere, {0, 0, -5}, up, {0, 0}},
        {"tangent to a sphere on its seam", sphere, {5, 0, 0}, across, {0, 0}},
        {"tangent to a sphere anywhere", sphere, {3, 4, 0}, {3, 4, 0}, {0, 0}},
        {"equator of a sphere", sphere, {0, 0, 0}, up, {25 * pi, 25 * pi}},
        {"through the poles of a sphere", sphere, {0, 0, 0}, {0.3, 1, 0}, {25 * pi, 25 * pi}},
        {"through the seam of a sphere", sphere, {0, 0, 0}, {0, 1, 0}, {25 * pi, 25 * pi}},
        {"flat side of half a ball", half_ball, {0, 0, 0}, up, {0, 25 * pi}},
        {"tip of a cone", cone, {0, 0, 12}, up, {0, 0}},
        {"base of a cone", cone, {0, 0, 0}, up, {0, 36 * pi}},
        {"tangent to a cone along a generator", cone, {6, 0, 0}, {12, 0, 6}, {0, 0}},
        {"tangent to a cone along another generator", cone, {0, 6, 0}, {0, 12, 6}, {0, 0}},
        {"through the axis of a cone", cone, {0, 0, 0}, {1, 2, 0}, {72, 72}},
        {"top of a frustum", frustum, {0, 0, 8}, up, {4 * pi, 0}},
        {"base of a frustum", frustum, {0, 0, 0}, up, {0, 36 * pi}},
        {"top of a torus: the plane touches along a circle", torus, {0, 0, 3}, up, {0, 0}},
        {"bottom of a torus", torus, {0, 0, -3}, up, {0, 0}},
        {"tangent to a torus outside", torus, {13, 0, 0}, across, {0, 0}},
        {"ridge of a wedge", wedge, {0, 10, 0}, {0, 1, 0}, {0, 0}},
        {"slope of a wedge", wedge, {20, 0, 0}, {10, 20, 0}, {6 * std::hypot(20, 10), 0}},
        {"along the diagonal of a square prism",
         BRepPrimAPI_MakeBox(10.0, 10.0, 4.0).Shape(),
         {0, 0, 0},
         {1, -1, 0},
         {40 * root2, 40 * root2}},
        {"ridge of a hill of splines", spline_hill(), {0, 0, 5}, up, {0, 0}},
        {"foot of a hill of splines", spline_hill(), {0, 0, 1}, up, {200, 200}},
        {"ground of a hill of splines", spline_hill(), {0, 0, 0}, up, {0, 200}},
    };
}

double area(const TopoDS_Shape& shape, const Datum& datum, Side side) {
    SectionOptions options;
    options.side = side;
    return section(bodies::solids_of(shape), datum, 0.0, options).area();
}

}  // namespace

TEST_CASE("in the plane: what is just below, or just above") {
    int seen = 0;
    for (const Case& c : cases()) {
        CAPTURE(c.name);
        ++seen;
        const Datum datum(c.origin, c.normal);
        // A touch may leave slivers below the resolution, 1e-3 of the tolerance times the length.
        const auto right = [](double expected) {
            return doctest::Approx(expected).epsilon(1e-9).scale(expected == 0.0 ? 1e3 : 0.0);
        };
        CHECK(area(c.shape, datum, Side::below) == right(c.area.below));
        CHECK(area(c.shape, datum, Side::above) == right(c.area.above));
        // Turned over, above and below change places.
        const Datum turned(c.origin, -c.normal);
        CHECK(area(c.shape, turned, Side::above) == right(c.area.below));
        CHECK(area(c.shape, turned, Side::below) == right(c.area.above));
    }
    CHECK(seen >= 45);
}

TEST_CASE("the same in general position and within 1e-7 of the plane") {
    gp_Trsf turn;
    turn.SetRotation(gp_Ax1(gp_Pnt(3, -2, 1), gp_Dir(1, 2, 3)), 0.7);
    for (const Case& c : cases()) {
        const TopoDS_Shape turned = BRepBuilderAPI_Transform(c.shape, turn).Shape();
        const gp_Pnt origin = gp_Pnt(c.origin.x(), c.origin.y(), c.origin.z()).Transformed(turn);
        const gp_Vec normal = gp_Vec(c.normal.x(), c.normal.y(), c.normal.z()).Transformed(turn);
        const Datum datum({origin.X(), origin.Y(), origin.Z()},
                          {normal.X(), normal.Y(), normal.Z()});
        for (const double aside : {0.0, 3e-8, -3e-8}) {
            CAPTURE(c.name);
            CAPTURE(aside);
            // A tangent plane 3e-8 inside a surface of radius 5 cuts a strip 1e-3 wide, in truth,
            // and one of a torus a ring of that width.
            const double slack = aside == 0.0 ? 1e-5 : 0.1;
            const Datum plane = datum.moved(aside);
            CHECK(std::abs(area(turned, plane, Side::below) - c.area.below) < slack);
            CHECK(std::abs(area(turned, plane, Side::above) - c.area.above) < slack);
        }
    }
}

TEST_CASE("vertices that miss the face in the plane, as files give them") {
    // Up to the precision that common modellers write: no plane within it may lose the face, end
    // nowhere, or take a corner for the middle of an edge.
    std::mt19937_64 random(23);
    std::uniform_real_distribution<double> around(-1.0, 1.0);
    for (int k = 0; k < 60; ++k) {
        const double noise = std::pow(10.0, -7.0 + 0.3 * (k % 8));
        const TopoDS_Shape box = BRepPrimAPI_MakeBox(20.0, 10.0, 6.0).Shape();
        TopTools_IndexedMapOfShape vertices;
        TopExp::MapShapes(box, TopAbs_VERTEX, vertices);
        for (int i = 1; i <= vertices.Extent(); ++i) {
            const TopoDS_Vertex vertex = TopoDS::Vertex(vertices(i));
            const gp_Vec way(around(random), around(random), around(random));
            BRep_Builder().UpdateVertex(vertex, BRep_Tool::Pnt(vertex).Translated(noise * way),
                                        4.0 * noise);
        }
        const std::vector<Solid> solids = bodies::solids_of(box);
        CAPTURE(noise);
        SectionOptions above;
        above.side = Side::above;
        for (const double below : {0.0, 1e-6, 3e-6}) {
            CAPTURE(below);
            CHECK(section(solids, Datum::xy(), 6.0 - below).area() ==
                  doctest::Approx(200.0).epsilon(1e-5));
            CHECK(section(solids, Datum::xy(), below, above).area() ==
                  doctest::Approx(200.0).epsilon(1e-5));
        }
        for (const At at : {At::top, At::bottom, At::through}) {
            FlattenOptions options;
            options.at = at;
            CHECK(silhouette(solids, Datum::xy(), options).area() ==
                  doctest::Approx(200.0).epsilon(1e-5));
        }
    }
}
