#pragma once

/// Plates with features that a straight cut can't make, and ways to move them, for the tests of
/// this floor and of features. All stand on z = 0 and are 5 mm thick.

#include <BRepBuilderAPI_Transform.hxx>
#include <BRepFilletAPI_MakeChamfer.hxx>
#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRepPrimAPI_MakeWedge.hxx>
#include <BRep_Tool.hxx>
#include <TopExp.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <cmath>
#include <gp_Quaternion.hxx>
#include <vector>

#include "flatten/bodies.hpp"

namespace bodies {

inline constexpr double plate_length = 60.0, plate_width = 40.0, plate_thickness = 5.0;
inline constexpr double plate_area = plate_length * plate_width;

inline double circle_area(double radius) { return planform::pi * radius * radius; }

inline TopoDS_Shape plate() {
    return BRepPrimAPI_MakeBox(plate_length, plate_width, plate_thickness).Shape();
}

inline TopoDS_Shape box(const gp_Pnt& low, const gp_Pnt& high) {
    return BRepPrimAPI_MakeBox(low, high).Shape();
}

inline TopoDS_Shape without(const TopoDS_Shape& body, const TopoDS_Shape& tool) {
    return BRepAlgoAPI_Cut(body, tool).Shape();
}

inline TopoDS_Shape joined(const TopoDS_Shape& body, const TopoDS_Shape& other) {
    return BRepAlgoAPI_Fuse(body, other).Shape();
}

inline gp_Ax2 upright(double x, double y, double z) { return {gp_Pnt(x, y, z), gp_Dir(0, 0, 1)}; }

inline TopoDS_Shape cylinder(const gp_Ax2& axis, double radius, double length) {
    return BRepPrimAPI_MakeCylinder(axis, radius, length).Shape();
}

inline TopoDS_Shape drilled(const TopoDS_Shape& body, double x, double y, double radius) {
    return without(body, cylinder(upright(x, y, -50.0), radius, 100.0));
}

/// 90 degrees, from 5 mm down to 2.5 mm radius, around a drilled hole in the middle of the plate.
inline TopoDS_Shape countersunk_plate() {
    return without(
        drilled(plate(), 30, 20, 2.5),
        BRepPrimAPI_MakeCone(upright(30, 20, plate_thickness - 2.5), 2.5, 5.0, 2.5).Shape());
}

/// 12 mm wide, 3 mm deep, around a hole of 5 mm.
inline TopoDS_Shape counterbored_plate() {
    return without(drilled(plate(), 30, 20, 2.5), cylinder(upright(30, 20, 2), 6.0, 10.0));
}

/// 15 x 10 mm, 2 mm deep.
inline TopoDS_Shape pocketed_plate() {
    return without(plate(), box(gp_Pnt(10, 10, 3), gp_Pnt(25, 20, 9)));
}

/// 60 x 40 mm below, `draft` less on every side above.
inline TopoDS_Shape drafted_plate(double draft) {
    const gp_Ax2 lying(gp_Pnt(0, plate_width, 0), gp_Dir(0, -1, 0), gp_Dir(1, 0, 0));
    return BRepPrimAPI_MakeWedge(lying, plate_length, plate_thickness, plate_width, draft, draft,
                                 plate_length - draft, plate_width - draft)
        .Shape();
}

/// The edges of a body that lie on z = height as a whole.
inline std::vector<TopoDS_Edge> edges_at(const TopoDS_Shape& body, double height) {
    TopTools_IndexedMapOfShape all;
    TopExp::MapShapes(body, TopAbs_EDGE, all);
    std::vector<TopoDS_Edge> edges;
    for (int i = 1; i <= all.Extent(); ++i) {
        const TopoDS_Edge& edge = TopoDS::Edge(all(i));
        double first = 0.0, last = 0.0;
        const Handle(Geom_Curve) curve = BRep_Tool::Curve(edge, first, last);
        bool on = !curve.IsNull();
        for (const double share : {0.0, 0.3, 1.0})
            on = on && std::abs(curve->Value(first + share * (last - first)).Z() - height) < 1e-9;
        if (on) edges.push_back(edge);
    }
    return edges;
}

/// All edges at the top with a chamfer of the same width both ways.
inline TopoDS_Shape chamfered(const TopoDS_Shape& body, double width) {
    BRepFilletAPI_MakeChamfer maker(body);
    for (const TopoDS_Edge& edge : edges_at(body, plate_thickness)) maker.Add(width, edge);
    return maker.Shape();
}

/// All edges at the top rounded.
inline TopoDS_Shape rounded(const TopoDS_Shape& body, double radius) {
    BRepFilletAPI_MakeFillet maker(body);
    for (const TopoDS_Edge& edge : edges_at(body, plate_thickness)) maker.Add(radius, edge);
    return maker.Shape();
}

/// 3 mm wide, along the whole plate, 2.5 mm below the top.
inline TopoDS_Shape cross_drilled_plate() {
    return without(plate(), cylinder(gp_Ax2(gp_Pnt(-1, 20, 2.5), gp_Dir(1, 0, 0)), 1.5, 100.0));
}

/// A body moved and turned in space, and the datum that sees it as the datum xy saw it before, or
/// from below.
struct Placed {
    TopoDS_Shape shape;
    planform::Datum datum, from_below;
};

inline Placed placed(const TopoDS_Shape& body) {
    gp_Trsf turn, shift;
    turn.SetRotation(gp_Quaternion(gp_Vec(1, 2, -0.7), 1.1));
    shift.SetTranslation(gp_Vec(-31.0, 17.0, 210.0));
    const gp_Trsf move = shift * turn;
    const gp_Vec z = gp_Vec(0, 0, 1).Transformed(move), x = gp_Vec(1, 0, 0).Transformed(move);
    const gp_Pnt o = gp_Pnt(0, 0, 0).Transformed(move);
    const planform::Point3 origin(o.X(), o.Y(), o.Z());
    const planform::Vector3 up(z.X(), z.Y(), z.Z()), along(x.X(), x.Y(), x.Z());
    return {BRepBuilderAPI_Transform(body, move, true).Shape(), planform::Datum(origin, up, along),
            planform::Datum(origin, -up, along)};
}

}  // namespace bodies
