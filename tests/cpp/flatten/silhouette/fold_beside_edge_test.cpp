/// Faces that end just before or just past a fold, by as little as the angles in files are off.

#include <doctest/doctest.h>

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeSolid.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_Sewing.hxx>
#include <BRepLib.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <Geom_ToroidalSurface.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Solid.hxx>
#include <cmath>
#include <gp_Circ.hxx>
#include <vector>

#include "flatten/bodies.hpp"

using namespace planform;
using namespace bodies;

namespace {

/// Wire bent about the y axis: from the plane z = 0 on by so much, downwards. Its seam lies at
/// `seam` of the wire's circle, which need not be where the surface's parameters start.
TopoDS_Shape bent_wire(double bend, double wire, double turn, double seam) {
    const gp_Ax3 axes(gp_Pnt(0, 0, 0), gp_Dir(0, 1, 0), gp_Dir(1, 0, 0));
    const Handle(Geom_ToroidalSurface) torus = new Geom_ToroidalSurface(axes, bend, wire);
    BRepBuilderAPI_Sewing sewing(1e-7);
    sewing.Add(BRepBuilderAPI_MakeFace(torus, 0.0, turn, seam, seam + 2.0 * pi, 1e-9).Face());
    for (const double u : {0.0, turn}) {
        BRepBuilderAPI_MakeEdge circle(torus->UIso(u), seam, seam + 2.0 * pi);
        BRepBuilderAPI_MakeWire wire_around(circle.Edge());
        sewing.Add(BRepBuilderAPI_MakeFace(wire_around.Wire()).Face());
    }
    sewing.Perform();
    BRepBuilderAPI_MakeSolid solid(TopoDS::Shell(sewing.SewedShape()));
    TopoDS_Solid body = solid.Solid();
    BRepLib::OrientClosedSolid(body);
    return body;
}

/// A slice of a ball about the y axis.
TopoDS_Shape ball_slice(double radius, double turn) {
    const gp_Ax2 circle(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1), gp_Dir(0, -1, 0));
    BRepBuilderAPI_MakeEdge arc(gp_Circ(circle, radius), 0.0, pi);
    BRepBuilderAPI_MakeEdge line(gp_Pnt(0, radius, 0), gp_Pnt(0, -radius, 0));
    BRepBuilderAPI_MakeFace half(BRepBuilderAPI_MakeWire(arc.Edge(), line.Edge()).Wire());
    return BRepPrimAPI_MakeRevol(half.Face(), gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 1, 0)), turn)
        .Shape();
}

/// 1e-10 to 5e-4 rad, three a decade, to both sides.
std::vector<double> small_angles() {
    std::vector<double> angles = {0.0};
    for (double decade = 1e-10; decade < 5e-4; decade *= 10.0)
        for (const double share : {1.0, 2.0, 5.0})
            for (const double sign : {1.0, -1.0}) angles.push_back(sign * share * decade);
    return angles;
}

}  // namespace

TEST_CASE("a bend that ends beside the fold across it") {
    // Along x: a strip from the plane to the middle of the wire, and half of the wire's end.
    for (const double wire : {0.35, 0.05})
        for (const double seam : {0.0, 1.0, 0.5 * pi, pi})
            for (const double past : small_angles())
                for (const double side : {1.0, -1.0}) {
                    CAPTURE(wire);
                    CAPTURE(seam);
                    CAPTURE(past);
                    CAPTURE(side);
                    const double bend = 0.7;
                    const ProfileSet shadow =
                        silhouette_of(bent_wire(bend, wire, 0.5 * pi + past, seam),
                                      {Point3::Zero(), {side, 0, 0}});
                    const double area = 2.0 * wire * bend + 0.5 * pi * wire * wire;
                    CHECK(std::abs(shadow.area() - area) <= 1e-8 + past * past);
                    CHECK(shadow.notes().empty());
                }
}

TEST_CASE("a slice of a ball that ends beside the fold along its edge") {
    // Along x: half a disc.
    for (const double past : small_angles())
        for (const double side : {1.0, -1.0}) {
            CAPTURE(past);
            CAPTURE(side);
            const ProfileSet shadow =
                silhouette_of(ball_slice(2.0, 0.5 * pi + past), {Point3::Zero(), {side, 0, 0}});
            CHECK(std::abs(shadow.area() - 2.0 * pi) <= 1e-8 + 2.0 * pi * past * past);
            CHECK(shadow.notes().empty());
        }
}
