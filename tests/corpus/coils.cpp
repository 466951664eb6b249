#include "coils.hpp"

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepLib.hxx>
#include <BRepOffsetAPI_MakePipeShell.hxx>
#include <GCE2d_MakeSegment.hxx>
#include <Geom2d_TrimmedCurve.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <TopoDS_Wire.hxx>
#include <cmath>
#include <gp_Circ.hxx>
#include <gp_Elips.hxx>
#include <sstream>

#include "planform/geometry.hpp"

namespace corpus {

std::string Coil::describe() const {
    std::ostringstream text;
    text << turns << " turns of " << (is_round ? "round" : "rectangular") << " wire, degree up to "
         << greatest_degree;
    return text.str();
}

TopoDS_Shape coil_body(const Coil& coil) {
    const double angle = 2.0 * planform::pi * coil.turns, climb = coil.pitch * coil.turns;
    const Handle(Geom_CylindricalSurface) cylinder =
        new Geom_CylindricalSurface(gp_Ax3(gp::XOY()), coil.radius);
    const Handle(Geom2d_TrimmedCurve) line =
        GCE2d_MakeSegment(gp_Pnt2d(0.0, 0.0), gp_Pnt2d(angle, climb)).Value();
    const TopoDS_Edge helix =
        BRepBuilderAPI_MakeEdge(line, cylinder, line->FirstParameter(), line->LastParameter());
    BRepLib::BuildCurves3d(helix);
    const gp_Pnt start(coil.radius, 0.0, 0.0);
    const gp_Dir along(0.0, 2.0 * planform::pi * coil.radius, coil.pitch), outward(1.0, 0.0, 0.0);
    TopoDS_Wire profile;
    if (coil.is_round) {
        const gp_Circ circle(gp_Ax2(start, along, outward), 0.5 * coil.width);
        profile = BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(circle).Edge()).Wire();
    } else {
        BRepBuilderAPI_MakePolygon polygon;
        const gp_Vec out = 0.5 * coil.width * gp_Vec(outward);
        const gp_Vec up = 0.5 * coil.height * gp_Vec(outward).Crossed(gp_Vec(along));
        for (const auto& corner : {out + up, up - out, -out - up, out - up})
            polygon.Add(start.Translated(corner));
        polygon.Close();
        profile = polygon.Wire();
    }
    BRepOffsetAPI_MakePipeShell sweep(BRepBuilderAPI_MakeWire(helix).Wire());
    sweep.SetMode(gp_Dir(0.0, 0.0, 1.0));  // keeps the wire upright
    sweep.SetMaxDegree(coil.greatest_degree);
    sweep.SetMaxSegments(400);
    sweep.Add(profile);
    sweep.Build();
    if (!sweep.IsDone() || !sweep.MakeSolid()) return {};
    return sweep.Shape();
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
