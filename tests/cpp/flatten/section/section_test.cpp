/// Sections against closed forms.

#include <doctest/doctest.h>

#include "flatten/bodies.hpp"
#include "planform/error.hpp"

using namespace planform;

namespace {

constexpr double section_precision = 1e-9;

ProfileSet section_of(const TopoDS_Shape& shape, const Datum& datum, double offset = 0.0) {
    return section(bodies::solids_of(shape), datum, offset);
}

}  // namespace

TEST_CASE("a slanted plane cuts a cylinder in an ellipse") {
    const TopoDS_Shape cylinder =
        BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, -100), gp_Dir(0, 0, 1)), 5.0, 200.0).Shape();
    for (const double tilt : {0.0, 0.2, 0.9, 1.4}) {
        CAPTURE(tilt);
        const ProfileSet set = section_of(cylinder, bodies::tilted_datum(tilt, 1.1));
        REQUIRE(set.profiles().size() == 1);
        CHECK(set.area() == doctest::Approx(pi * 25.0 / std::cos(tilt)).epsilon(section_precision));
        CHECK(set.profiles()[0].outer().curves().size() == 1);
    }
}

TEST_CASE("a plane along the axis cuts a cylinder in a rectangle") {
    const TopoDS_Shape cylinder = BRepPrimAPI_MakeCylinder(5.0, 20.0).Shape();
    for (const double distance : {0.0, 1.0, -3.0, 4.9}) {
        CAPTURE(distance);
        const double half = std::sqrt(25.0 - distance * distance);
        // Within 2e-7 mm of a vertex the plane is moved by that much: an error of second order at
        // 0.
        CHECK(section_of(cylinder, Datum::xz(), distance).area() ==
              doctest::Approx(2 * half * 20.0).epsilon(section_precision));
    }
}

TEST_CASE("spheres, cones and tori") {
    CHECK(section_of(BRepPrimAPI_MakeSphere(5.0).Shape(), Datum::xy(), 3.0).area() ==
          doctest::Approx(pi * 16.0).epsilon(section_precision));
    CHECK(section_of(BRepPrimAPI_MakeSphere(5.0).Shape(), Datum({1, 0, 0}, {1, 1, 1})).area() ==
          doctest::Approx(pi * (25.0 - 1.0 / 3.0)).epsilon(section_precision));
    CHECK(section_of(BRepPrimAPI_MakeCone(6.0, 0.0, 12.0).Shape(), Datum::xy(), 4.0).area() ==
          doctest::Approx(pi * 16.0).epsilon(section_precision));
    const TopoDS_Shape torus = BRepPrimAPI_MakeTorus(10.0, 3.0).Shape();
    const double c = std::sqrt(9.0 - 4.0);
    CHECK(section_of(torus, Datum::xy(), 2.0).area() ==
          doctest::Approx(pi * ((10 + c) * (10 + c) - (10 - c) * (10 - c)))
              .epsilon(section_precision));
    CHECK(section_of(torus, Datum({0, 0, 0}, {0.3, 1, 0})).area() ==
          doctest::Approx(2 * pi * 9.0).epsilon(section_precision));
}

TEST_CASE("a plate's section has its holes") {
    const ProfileSet set = section_of(bodies::drilled_plate(), Datum::xy(), 1.5);
    REQUIRE(set.profiles().size() == 1);
    CHECK(set.profiles()[0].holes().size() == 3);
    const double holes = pi * (16.0 + 6.5 * 6.5) + 20.0 * 6.0 + pi * 9.0;
    CHECK(set.area() == doctest::Approx(9600.0 - holes).epsilon(section_precision));
}

TEST_CASE("a plane in a face shows the material below it") {
    const TopoDS_Shape box = BRepPrimAPI_MakeBox(10.0, 20.0, 30.0).Shape();
    CHECK(section_of(box, Datum::xy(), 30.0).area() ==
          doctest::Approx(200.0).epsilon(section_precision));
    const ProfileSet below = section_of(box, Datum::xy(), 0.0);
    CHECK(below.empty());
    REQUIRE(!below.notes().empty());
}

TEST_CASE("a plane that misses gives an empty set and says so") {
    const ProfileSet set =
        section_of(BRepPrimAPI_MakeBox(10.0, 20.0, 30.0).Shape(), Datum::xy(), 31.0);
    CHECK(set.empty());
    REQUIRE(set.notes().size() == 1);
    CHECK(set.notes()[0].find("meets none") != std::string::npos);
    CHECK_THROWS_AS(section_of(BRepPrimAPI_MakeBox(1.0, 1.0, 1.0).Shape(), Datum::xy(), NAN),
                    GeometryError);
}
