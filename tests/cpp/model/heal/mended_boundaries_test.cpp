#include <doctest/doctest.h>

#include <BRepGProp.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <GProp_GProps.hxx>
#include <cmath>

#include "model/heal/broken_boundaries.hpp"
#include "planform/occt.hpp"

using namespace planform;
using namespace planform::test;

namespace {

double kernel_area(const TopoDS_Shape& shape) {
    GProp_GProps properties;
    BRepGProp::SurfaceProperties(shape, properties);
    return properties.Mass();
}

}  // namespace

TEST_CASE("a face whose boundary goes to and fro by whole periods counts once") {
    // Closed forms: 2 pi r (r + h) and pi r^2 h.
    const double area = turn * radius * (radius + height);
    const double volume = pi * radius * radius * height;
    CHECK(std::abs(kernel_area(twice_round()) - area) > 0.1 * area);
    for (const TopoDS_Shape& damaged : {rim_apart(), twice_round()}) {
        const Model model = from_shape(damaged);
        const Solid& solid = model.solids().front();
        CHECK(solid.surface_area() == doctest::Approx(area).epsilon(1e-12));
        CHECK(solid.volume() == doctest::Approx(volume).epsilon(1e-12));
        CHECK(kernel_area(shape_of(solid)) == doctest::Approx(area).epsilon(1e-12));
        CHECK(solid.face_count() == 3);
        CHECK(solid.edge_count() == 3);
        CHECK_FALSE(shape_of(solid).IsPartner(damaged));  // the caller's shape stays as it is
    }
}

TEST_CASE("bodies with true poles and seams are taken as they are") {
    const TopoDS_Shape bodies[] = {
        BRepPrimAPI_MakeSphere(6.0).Solid(), BRepPrimAPI_MakeCone(5.0, 0.0, 8.0).Solid(),
        BRepPrimAPI_MakeTorus(10.0, 3.0).Solid(), BRepPrimAPI_MakeCylinder(radius, height).Solid()};
    for (const TopoDS_Shape& body : bodies)
        CHECK(shape_of(from_shape(body).solids().front()).IsPartner(body));
}
