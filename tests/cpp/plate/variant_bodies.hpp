#pragma once

/// Bodies of which variants are tried: plain, bent, folded, turned, with edges rounded or
/// chamfered.

#include <BRep_Tool.hxx>
#include <TopExp.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <cmath>
#include <gp_Dir.hxx>
#include <gp_Pnt.hxx>

#include "plate/bodies.hpp"

namespace parts {

TopoDS_Shape fused(const TopoDS_Shape& a, const TopoDS_Shape& b);
TopoDS_Shape without(const TopoDS_Shape& a, const TopoDS_Shape& b);
TopoDS_Shape block(double x, double y, double z, double to_x, double to_y, double to_z);
TopoDS_Shape rod(const gp_Pnt& from, const gp_Dir& along, double radius, double length);
/// A profile in the half plane x > 0 turned once around z.
TopoDS_Shape revolved(const Corners& corners);
/// All edges that are wanted, by their two ends, rounded or chamfered.
template <class Maker, class Wanted>
TopoDS_Shape dressed_where(const TopoDS_Shape& body, double size, const Wanted& wanted) {
    Maker maker(body);
    TopTools_IndexedMapOfShape edges;
    TopExp::MapShapes(body, TopAbs_EDGE, edges);
    for (int i = 1; i <= edges.Extent(); ++i) {
        const TopoDS_Edge& edge = TopoDS::Edge(edges(i));
        if (wanted(BRep_Tool::Pnt(TopExp::FirstVertex(edge)),
                   BRep_Tool::Pnt(TopExp::LastVertex(edge))))
            maker.Add(size, edge);
    }
    return maker.Shape();
}

/// Edges that run upright.
TopoDS_Shape rounded_upright_edges(const TopoDS_Shape& body, double radius);
/// Edges at a height.
template <class Maker>
TopoDS_Shape dressed(const TopoDS_Shape& body, double height, double size) {
    return dressed_where<Maker>(body, size, [height](const gp_Pnt& a, const gp_Pnt& b) {
        return std::abs(a.Z() - height) < 1e-9 && std::abs(b.Z() - height) < 1e-9;
    });
}

/// The open line offset to a strip `t` broad and pulled 60 mm along z: sheet folded sharp.
TopoDS_Shape folded(const Corners& line, double t, double length = 60.0);
/// An angle bent round inner radius r: flat, quarter ring, wing.
TopoDS_Shape bent(double t, double r, double flat, double wing, double length = 60.0);
TopoDS_Shape gear(double t);
TopoDS_Shape plate(double t);
TopoDS_Shape countersunk(const TopoDS_Shape& body, double x, double y, double t);

}  // namespace parts
