#include "coils.hpp"

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepLib.hxx>
#include <BRepOffsetAPI_MakePipeShell.hxx>
#include <GCE2d_MakeSegment.hxx>
#include <Geom2d_TrimmedCurve.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Wire.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Circ.hxx>
#include <sstream>

#include "planform/geometry.hpp"

namespace corpus {

std::string Coil::describe() const {
    std::ostringstream text;
    text << turns << " turns of " << (is_round ? "round" : "rectangular") << " wire, degree up to "
         << greatest_degree;
    return text.str();
}

namespace {

/// The helix in edges of at most `most` turns each.
TopoDS_Wire helix(const Coil& coil, double most) {
    const Handle(Geom_CylindricalSurface) cylinder =
        new Geom_CylindricalSurface(gp_Ax3(gp::XOY()), coil.radius);
    const int parts = std::max(1, static_cast<int>(std::ceil(coil.turns / most)));
    const auto at = [&](int k) {
        const double turns = coil.turns * k / parts;
        return gp_Pnt2d(2.0 * planform::pi * turns, coil.pitch * turns);
    };
    BRepBuilderAPI_MakeWire wire;
    for (int k = 0; k < parts; ++k) {
        const Handle(Geom2d_TrimmedCurve) line = GCE2d_MakeSegment(at(k), at(k + 1)).Value();
        const TopoDS_Edge edge =
            BRepBuilderAPI_MakeEdge(line, cylinder, line->FirstParameter(), line->LastParameter());
        BRepLib::BuildCurves3d(edge);
        wire.Add(edge);
    }
    return wire.Wire();
}

TopoDS_Wire cross_section(const Coil& coil) {
    const gp_Pnt start(coil.radius, 0.0, 0.0);
    const gp_Dir along(0.0, 2.0 * planform::pi * coil.radius, coil.pitch), outward(1.0, 0.0, 0.0);
    if (coil.is_round) {
        const gp_Circ circle(gp_Ax2(start, along, outward), 0.5 * coil.width);
        return BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(circle).Edge()).Wire();
    }
    BRepBuilderAPI_MakePolygon polygon;
    const gp_Vec out = 0.5 * coil.width * gp_Vec(outward);
    const gp_Vec up = 0.5 * coil.height * gp_Vec(outward).Crossed(gp_Vec(along));
    for (const auto& corner : {out + up, up - out, -out - up, out - up})
        polygon.Add(start.Translated(corner));
    polygon.Close();
    return polygon.Wire();
}

TopoDS_Shape swept(const Coil& coil, double most_turns) {
    BRepOffsetAPI_MakePipeShell sweep(helix(coil, most_turns));
    sweep.SetMode(gp_Dir(0.0, 0.0, 1.0));  // keeps the wire upright
    sweep.SetMaxDegree(coil.greatest_degree);
    sweep.SetMaxSegments(400);
    sweep.Add(cross_section(coil));
    sweep.Build();
    if (!sweep.IsDone() || !sweep.MakeSolid()) return {};
    return sweep.Shape();
}

}  // namespace

TopoDS_Shape coil_body(const Coil& coil) {
    // Surfaces of many turns have more pieces than the kernel allows.
    const TopoDS_Shape in_one = coil.turns <= 10.0 ? swept(coil, coil.turns) : TopoDS_Shape();
    return in_one.IsNull() ? swept(coil, 4.0) : in_one;
}

std::vector<Coil> coils() {
    std::vector<Coil> all;
    for (const double turns : {1.0, 2.25, 3.0, 5.5, 8.0, 12.0, 20.0, 30.0, 50.0})
        for (const bool is_round : {true, false})
            for (const int degree : {3, 11}) {
                Coil coil;
                coil.turns = turns;
                coil.is_round = is_round;
                coil.greatest_degree = degree;
                if (!is_round) coil.height = 1.2;
                all.push_back(coil);
            }
    return all;
}

}  // namespace corpus
