#pragma once

/// Cylinders whose walls have boundaries as some files give them: curves in the parameters by whole
/// periods off.

#include <BRepAdaptor_Surface.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_Line.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Iterator.hxx>
#include <TopoDS_Wire.hxx>
#include <gp_Vec2d.hxx>

#include "planform/geometry.hpp"

namespace planform::test {

/// mm.
inline constexpr double radius = 3.0, height = 7.0;
inline constexpr double turn = 2.0 * pi;

inline TopoDS_Face wall_of(const TopoDS_Shape& cylinder) {
    for (TopExp_Explorer faces(cylinder, TopAbs_FACE); faces.More(); faces.Next()) {
        const TopoDS_Face& face = TopoDS::Face(faces.Current());
        if (BRepAdaptor_Surface(face).GetType() == GeomAbs_Cylinder)
            return TopoDS::Face(face.Oriented(TopAbs_FORWARD));
    }
    return {};
}

inline TopoDS_Wire wire_of(const TopoDS_Face& face) {
    return TopoDS::Wire(TopExp_Explorer(face, TopAbs_WIRE).Current());
}

inline Handle(Geom2d_Curve) moved(const Handle(Geom2d_Curve) & curve, double along_u) {
    return Handle(Geom2d_Curve)::DownCast(curve->Translated(gp_Vec2d(along_u, 0.0)));
}

/// The edges of a wall: its seam, and the rim at height v in the parameters.
struct Wall {
    explicit Wall(const TopoDS_Shape& cylinder) : face(wall_of(cylinder)) {
        for (TopoDS_Iterator it(wire_of(face)); it.More(); it.Next()) {
            const TopoDS_Edge edge = TopoDS::Edge(it.Value().Oriented(TopAbs_FORWARD));
            if (BRep_Tool::IsClosed(edge, face)) {
                seam = edge;
                continue;
            }
            double first, last;
            const double v = BRep_Tool::CurveOnSurface(edge, face, first, last)->Value(first).Y();
            (v > 0.5 * height ? top : bottom) = edge;
        }
    }

    TopoDS_Face face;
    TopoDS_Edge seam, bottom, top;
};

/// The upper rim lies a period away from the rest of the boundary.
inline TopoDS_Shape rim_apart() {
    const TopoDS_Shape cylinder = BRepPrimAPI_MakeCylinder(radius, height).Solid();
    const Wall wall(cylinder);
    double first, last;
    const Handle(Geom2d_Curve) curve = BRep_Tool::CurveOnSurface(wall.top, wall.face, first, last);
    BRep_Builder().UpdateEdge(wall.top, moved(curve, turn), wall.face, 1e-7);
    return cylinder;
}

/// An edge without extent from u = 2 pi to 4 pi, although a cylinder has no pole.
inline void add_false_pole(const Wall& wall, const TopoDS_Edge& rim, double v,
                           TopAbs_Orientation way) {
    const BRep_Builder builder;
    TopoDS_Edge edge;
    builder.MakeEdge(edge);
    const TopoDS_Vertex vertex = TopExp::FirstVertex(rim);
    builder.Add(edge, vertex.Oriented(TopAbs_FORWARD));
    builder.Add(edge, vertex.Oriented(TopAbs_REVERSED));
    builder.UpdateEdge(edge, new Geom2d_Line(gp_Pnt2d(turn, v), gp_Dir2d(1.0, 0.0)), wall.face,
                       1e-7);
    builder.Range(edge, wall.face, 0.0, turn);
    builder.Degenerated(edge, Standard_True);
    TopoDS_Wire wire = wire_of(wall.face);
    wire.Free(Standard_True);
    builder.Add(wire, edge.Oriented(way));
}

/// The boundary goes twice round the wall: once along the rims, once along edges marked as poles.
inline TopoDS_Shape twice_round() {
    const TopoDS_Shape cylinder = BRepPrimAPI_MakeCylinder(radius, height).Solid();
    const Wall wall(cylinder);
    double first, last;
    Handle(Geom2d_Curve) sides[2];
    for (const int i : {0, 1}) {
        const TopAbs_Orientation way = i == 0 ? TopAbs_FORWARD : TopAbs_REVERSED;
        sides[i] = BRep_Tool::CurveOnSurface(TopoDS::Edge(wall.seam.Oriented(way)), wall.face,
                                             first, last);
        if (sides[i]->Value(first).X() > pi) sides[i] = moved(sides[i], turn);
    }
    BRep_Builder().UpdateEdge(wall.seam, sides[0], sides[1], wall.face, 1e-7);
    add_false_pole(wall, wall.bottom, 0.0, TopAbs_FORWARD);
    add_false_pole(wall, wall.top, height, TopAbs_REVERSED);
    return cylinder;
}

}  // namespace planform::test
