#include <doctest/doctest.h>

#include <BRepPrimAPI_MakeCylinder.hxx>
#include <cmath>

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
