#include "model/measure/bounds.hpp"

#include <doctest/doctest.h>

#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <GeomConvert.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BezierCurve.hxx>
#include <Geom_SphericalSurface.hxx>
#include <Geom_SurfaceOfRevolution.hxx>
#include <Geom_ToroidalSurface.hxx>
#include <Precision.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <cmath>
#include <random>

#include "model/support.hpp"

using namespace planform;
using namespace planform::test;

namespace {

/// The box of points on a surface, close together: from inside.
Box3 sampled(const Handle(Geom_Surface) & surface, double u1, double u2, double v1, double v2) {
    constexpr int steps = 600;
    Box3 box;
    for (int i = 0; i <= steps; ++i) {
        for (int j = 0; j <= steps; ++j) {
            const gp_Pnt point =
                surface->Value(u1 + (u2 - u1) * i / steps, v1 + (v2 - v1) * j / steps);
            box.extend(Point3(point.X(), point.Y(), point.Z()));
        }
    }
    return box;
}

}  // namespace

TEST_CASE("box of a torus in general position: along an axis R sin + r, the angle to its own") {
    const double radius = 10.0, tube = 3.0;
    const TopLoc_Location place = general_position(0.7, 5.0, -2.0, 1.0);
    const Box3 box = model::tight_box(BRepPrimAPI_MakeTorus(radius, tube).Solid().Moved(place));
    const gp_Dir axis = gp::DZ().Transformed(place.Transformation());
    for (int i = 0; i < 3; ++i) {
        const double half = radius * std::sqrt(1.0 - std::pow(axis.Coord(i + 1), 2)) + tube;
        CHECK(box.sizes()[i] == doctest::Approx(2.0 * half).epsilon(1e-12));
    }
}

TEST_CASE("boxes of patches of tori and spheres hold all their points and hardly more") {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> unit(0.0, 1.0);
    for (int round = 0; round < 40; ++round) {
        CAPTURE(round);
        const TopLoc_Location place = general_position(6.0 * unit(random), 1.0, 2.0, 3.0);
        const bool is_sphere = round % 2 == 1;
        const double u1 = 6.0 * unit(random), u2 = u1 + 0.2 + 5.0 * unit(random);
        const double v1 = is_sphere ? -1.5 + unit(random) : 6.0 * unit(random);
        const double v2 = v1 + (is_sphere ? 1.5 : 5.0) * unit(random) + 0.1;
        Handle(Geom_Surface) surface;
        if (is_sphere) {
            surface = new Geom_SphericalSurface(gp_Ax3(), 4.0);
        } else {
            surface = new Geom_ToroidalSurface(gp_Ax3(), 5.0, 2.0);
        }
        surface->Transform(place.Transformation());
        const TopoDS_Shape face =
            BRepBuilderAPI_MakeFace(surface, u1, u2, v1, v2, Precision::Confusion()).Shape();
        const Box3 box = model::tight_box(face);
        const Box3 inside = sampled(surface, u1, u2, v1, v2);
        // The true extreme is at most half a step, 0.03 mm, beside a point, and the surface curves
        // with radii of at least 2 mm: 0.03^2 / (2 * 2), along u and along v.
        CHECK((inside.min() - box.min()).minCoeff() > -1e-9);
        CHECK((box.max() - inside.max()).minCoeff() > -1e-9);
        CHECK((inside.min() - box.min()).maxCoeff() < 5e-4);
        CHECK((box.max() - inside.max()).maxCoeff() < 5e-4);
    }
}

TEST_CASE("the belly of a barrel counts though no edge runs there, and so does a turned one") {
    // A parabola from radius 4 over a pole at 8 to 4: in the middle (4 + 2 * 8 + 4) / 4 = 6.
    TColgp_Array1OfPnt poles(1, 3);
    poles(1) = gp_Pnt(4, 0, -5);
    poles(2) = gp_Pnt(8, 0, 0);
    poles(3) = gp_Pnt(4, 0, 5);
    const Handle(Geom_BezierCurve) bezier = new Geom_BezierCurve(poles);
    const Handle(Geom_Surface) barrel = new Geom_SurfaceOfRevolution(
        GeomConvert::CurveToBSplineCurve(bezier), gp_Ax1(gp::Origin(), gp::DZ()));
    const TopoDS_Shape face = BRepBuilderAPI_MakeFace(barrel, Precision::Confusion()).Shape();
    const Box3 upright = model::tight_box(face);
    CHECK((upright.sizes() - Vector3(12, 12, 10)).cwiseAbs().maxCoeff() < 4e-7);
    const TopLoc_Location place = general_position(0.9, 1.0, 2.0, 3.0);
    const Box3 turned = model::tight_box(face.Moved(place));
    Handle(Geom_Surface) moved = Handle(Geom_Surface)::DownCast(barrel->Copy());
    moved->Transform(place.Transformation());
    const Box3 inside = sampled(moved, 0.0, 2.0 * pi, 0.0, 1.0);
    CHECK((inside.min() - turned.min()).minCoeff() > -1e-7);
    CHECK((turned.max() - inside.max()).minCoeff() > -1e-7);
    CHECK((inside.min() - turned.min()).maxCoeff() < 5e-4);
    CHECK((turned.max() - inside.max()).maxCoeff() < 5e-4);
}
