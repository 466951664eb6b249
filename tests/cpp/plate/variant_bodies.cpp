#include "plate/variant_bodies.hpp"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <algorithm>
#include <gp_Ax2.hxx>

namespace parts {

using planform::pi;

TopoDS_Shape fused(const TopoDS_Shape& a, const TopoDS_Shape& b) {
    return BRepAlgoAPI_Fuse(a, b).Shape();
}

TopoDS_Shape without(const TopoDS_Shape& a, const TopoDS_Shape& b) {
    return BRepAlgoAPI_Cut(a, b).Shape();
}

TopoDS_Shape block(double x, double y, double z, double to_x, double to_y, double to_z) {
    return BRepPrimAPI_MakeBox(gp_Pnt(x, y, z), gp_Pnt(to_x, to_y, to_z)).Shape();
}

TopoDS_Shape rod(const gp_Pnt& from, const gp_Dir& along, double radius, double length) {
    return BRepPrimAPI_MakeCylinder(gp_Ax2(from, along), radius, length).Shape();
}

TopoDS_Shape revolved(const Corners& corners) {
    BRepBuilderAPI_MakePolygon polygon;
    for (const auto& [x, z] : corners) polygon.Add(gp_Pnt(x, 0.0, z));
    polygon.Close();
    return BRepPrimAPI_MakeRevol(BRepBuilderAPI_MakeFace(polygon.Wire()).Face(), gp::OZ()).Shape();
}

TopoDS_Shape rounded_upright_edges(const TopoDS_Shape& body, double radius) {
    return dressed_where<BRepFilletAPI_MakeFillet>(
        body, radius, [](const gp_Pnt& a, const gp_Pnt& b) {
            return std::hypot(a.X() - b.X(), a.Y() - b.Y()) < 1e-9;
        });
}

TopoDS_Shape folded(const Corners& line, double t, double length) {
    TopoDS_Shape result;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const auto& [x, y] = line[i];
        const auto& [u, v] = line[i + 1];
        const TopoDS_Shape wall = block(std::min(x, u), std::min(y, v), 0.0, std::max(x, u) + t,
                                        std::max(y, v) + t, length);
        result = result.IsNull() ? wall : fused(result, wall);
    }
    return result;
}

TopoDS_Shape bent(double t, double r, double flat, double wing, double length) {
    const double o = r + t;
    const TopoDS_Shape ring =
        without(rod({0, 0, 0}, gp::DZ(), o, length), rod({0, 0, 0}, gp::DZ(), r, length));
    const TopoDS_Shape quarter =
        without(without(ring, block(0, -o, 0, o, o, length)), block(-o, 0, 0, o, o, length));
    return fused(fused(quarter, block(0, -o, 0, flat, -r, length)),
                 block(-o, 0, 0, -r, wing, length));
}

TopoDS_Shape gear(double t) {
    Corners corners;
    for (int i = 0; i < 24; ++i) {
        const double a = 2.0 * pi * i / 24.0, step = 2.0 * pi / 24.0;
        for (const auto& [share, radius] : {std::pair{0.0, 26.0}, std::pair{0.3, 26.0},
                                            std::pair{0.45, 30.0}, std::pair{0.85, 30.0}})
            corners.emplace_back(radius * std::cos(a + share * step),
                                 radius * std::sin(a + share * step));
    }
    return drilled(prism(corners, t), 0.0, 0.0, 12.0);
}

TopoDS_Shape plate(double t) { return box(120.0, 70.0, t); }

TopoDS_Shape countersunk(const TopoDS_Shape& body, double x, double y, double t) {
    const gp_Ax2 axis(gp_Pnt(x, y, 0.5 * t), gp_Dir(0, 0, 1));
    return without(drilled(body, x, y, 5.0),
                   BRepPrimAPI_MakeCone(axis, 2.5, 2.5 + 0.5 * t, 0.5 * t).Shape());
}

}  // namespace parts
