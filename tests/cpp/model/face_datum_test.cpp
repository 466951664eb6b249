#include <doctest/doctest.h>

#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <cmath>
#include <gp_Ax2.hxx>

#include "model/support.hpp"
#include "planform/occt.hpp"

using namespace planform;
using namespace planform::test;

namespace {

Solid one(const TopoDS_Shape& shape) { return from_shape(shape).solids().at(0); }

Point3 transformed(const TopLoc_Location& place, const Point3& point) {
    const gp_Pnt p = gp_Pnt(point.x(), point.y(), point.z()).Transformed(place.Transformation());
    return {p.X(), p.Y(), p.Z()};
}

}  // namespace

TEST_CASE("face_datum: every face of a box, with its normal out of the solid") {
    const TopLoc_Location place = general_position(0.8, 10.0, 20.0, 30.0);
    const Solid solid = one(box(3.0, 4.0, 5.0).Moved(place));
    const Point3 middle = transformed(place, {1.5, 2.0, 2.5});
    Vector3 sum = Vector3::Zero();
    double heights = 0.0;
    for (int face = 1; face <= 6; ++face) {
        const Datum datum = face_datum(solid, face);
        const double height = datum.to_datum(middle).z();
        CHECK(height < 0.0);  // the material lies below the plane
        heights += height;
        sum += datum.normal();
        // The origin is the foot of the model's origin.
        CHECK((datum.origin() - datum.origin().dot(datum.normal()) * datum.normal()).norm() <
              1e-12);
    }
    CHECK(sum.norm() < 1e-12);
    CHECK(heights == doctest::Approx(-(3.0 + 4.0 + 5.0)).epsilon(1e-12));
}

TEST_CASE("face_datum: numbers and kinds of faces that won't do") {
    const Solid rod = one(BRepPrimAPI_MakeCylinder(2.0, 10.0).Solid());
    int planar = 0;
    for (int face = 1; face <= 3; ++face) {
        try {
            const Datum datum = face_datum(rod, face);
            CHECK(std::abs(datum.normal().z()) == doctest::Approx(1.0));
            ++planar;
        } catch (const GeometryError& error) {
            CHECK(error.kind() == ErrorKind::invalid_argument);
            CHECK(std::string(error.what()).find("is not planar") != std::string::npos);
        }
    }
    CHECK(planar == 2);
    for (const int face : {-1, 0, 4}) {
        CAPTURE(face);
        CHECK_THROWS_WITH_AS(face_datum(rod, face),
                             ("solid 'solid 1': face " + std::to_string(face) +
                              " does not exist; faces have the numbers 1 to 3")
                                 .c_str(),
                             GeometryError);
    }
}

TEST_CASE("auto_datum: a plate in general position lies on its large face, in the first quadrant") {
    for (const double angle : {0.0, 0.3, 1.2, 2.5, pi}) {
        CAPTURE(angle);
        const TopLoc_Location place = general_position(angle, 100.0, -70.0, 40.0);
        const Solid solid = one(box(80.0, 50.0, 3.0).Moved(place));
        const Datum datum = auto_datum(solid);
        Box3 box;
        for (int corner = 0; corner < 8; ++corner) {
            const Point3 own(corner & 1 ? 80.0 : 0.0, corner & 2 ? 50.0 : 0.0,
                             corner & 4 ? 3.0 : 0.0);
            box.extend(datum.to_datum(transformed(place, own)));
        }
        CHECK(box.min().norm() < 1e-9);
        CHECK((box.max() - Point3(80.0, 50.0, 3.0)).norm() < 1e-9);
    }
}

TEST_CASE("auto_datum: without a straight edge; without a planar face") {
    const Datum disc = auto_datum(one(BRepPrimAPI_MakeCylinder(20.0, 2.0).Solid()));
    CHECK(std::abs(disc.normal().z()) == doctest::Approx(1.0).epsilon(1e-12));
    CHECK(disc.x().isApprox(Vector3::UnitX(), 1e-12));
    // The lower left corner of the disc's box: radius 20 about the axis.
    CHECK(disc.to_datum({0.0, 0.0, 1.0}).isApprox(Point3(20.0, 20.0, 1.0), 1e-9));

    // The larger end of a cone is below.
    const Datum cone = auto_datum(one(BRepPrimAPI_MakeCone(3.0, 9.0, 5.0).Solid()));
    CHECK(cone.normal().isApprox(-Vector3::UnitZ(), 1e-12));
    CHECK(cone.origin().z() == doctest::Approx(5.0).epsilon(1e-12));

    CHECK_THROWS_WITH_AS(auto_datum(one(BRepPrimAPI_MakeSphere(3.0).Solid())),
                         "solid 'solid 1' has no planar face to lie on; give a datum, e.g. xy",
                         GeometryError);
}

TEST_CASE(
    "auto_datum: ties go to the lower face number, so that the result is the same each time") {
    const Solid cube = one(box(4.0, 4.0, 4.0).Moved(general_position(0.6, 1.0, 2.0, 3.0)));
    const Datum datum = auto_datum(cube), first = face_datum(cube, 1);
    CHECK((datum.normal() + first.normal()).norm() < 1e-12);
    CHECK(std::abs(first.to_datum(datum.origin()).z()) < 1e-12);
}
