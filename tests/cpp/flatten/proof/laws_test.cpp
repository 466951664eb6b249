/// The laws that a silhouette is held against, each on figures with a closed form.

#include <doctest/doctest.h>

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <Geom_BezierCurve.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <cmath>
#include <random>
#include <string>

#include "flatten/bodies.hpp"
#include "model/measure/area_vectors.hpp"
#include "planform/error.hpp"
#include "proof/shadow_cover.hpp"
#include "proof/two_sides.hpp"

using namespace planform;

namespace {

Vector3 sum_of(const model::AreaVectors& areas) {
    Vector3 sum = Vector3::Zero();
    for (const model::FaceArea& face : areas.faces) sum += face.area;
    return sum;
}

ProfileSet square(double side) {
    const Point2 a(0, 0), b(side, 0), c(side, side), d(0, side);
    return ProfileSet({Profile(Contour({Line{a, b}, Line{b, c}, Line{c, d}, Line{d, a}}))});
}

}  // namespace

TEST_CASE("area vectors of a closed surface cancel (Gauss' theorem), of any body in any place") {
    std::mt19937_64 random(20);
    std::uniform_real_distribution<double> size(0.5, 20.0), place(-300.0, 300.0);
    for (int i = 0; i < 40; ++i) {
        const Vector3 axis = bodies::random_direction(random);
        const gp_Ax2 frame(gp_Pnt(place(random), place(random), place(random)),
                           gp_Dir(axis.x(), axis.y(), axis.z()));
        const double r = size(random), h = size(random);
        const TopoDS_Shape shapes[] = {BRepPrimAPI_MakeCylinder(frame, r, h).Shape(),
                                       BRepPrimAPI_MakeCone(frame, r, 0.4 * r, h).Shape(),
                                       BRepPrimAPI_MakeSphere(frame, r).Shape(),
                                       BRepPrimAPI_MakeTorus(frame, 2.0 * r, 0.5 * r).Shape(),
                                       BRepPrimAPI_MakeBox(frame, r, h, 3.0).Shape()};
        for (const TopoDS_Shape& shape : shapes) {
            const model::AreaVectors areas = model::area_vectors(shape);
            CHECK(sum_of(areas).norm() < 1e-11 * (r + h) * (r + h));
        }
        // A disc has pi r^2 along its normal, whichever way the body lies.
        const model::AreaVectors cylinder = model::area_vectors(shapes[0]);
        double along = 0.0;
        for (const model::FaceArea& face : cylinder.faces)
            along = std::max(along, face.area.dot(axis));
        CHECK(along == doctest::Approx(pi * r * r).epsilon(1e-12));
    }
}

TEST_CASE("the place of a cover: inside, outside by the distance, across the middle of a hole") {
    const ProfileSet plate({Profile(Contour({Arc{{0, 0}, 10.0, 0.0, 2.0 * pi}}),
                                    {Contour({Arc{{0, 0}, 4.0, 0.0, -2.0 * pi}})})});
    const proof::ShadowCover cover(plate.profiles(), 0.01);
    CHECK(cover.outside({7.0, 0.3}) == 0.0);
    CHECK(cover.outside({0.0, 13.0}) == doctest::Approx(3.0).epsilon(0.002));
    CHECK(cover.outside({0.0, 0.0}) == doctest::Approx(4.0).epsilon(0.002));
    CHECK(cover.outside({100.0, 100.0}) == doctest::Approx(std::sqrt(2e4) - 10.0).epsilon(0.001));
    const proof::SurfacePlace lost{{0.0, 10.02}, 0, 5};
    CHECK_THROWS_WITH_AS(proof::check_cover(plate.profiles(), {&lost, 1}, 0.01),
                         doctest::Contains("face 5: the law of cover is broken"), GeometryError);
    const proof::SurfacePlace kept{{0.0, 10.005}, 0, 5};
    CHECK(proof::check_cover(plate.profiles(), {&kept, 1}, 0.01) < 0.01);
    const proof::ShadowCover nothing({}, 0.01);
    CHECK(std::isinf(nothing.outside({0.0, 0.0})));
}

TEST_CASE("two sides that differ by more than the tolerance all along break the law") {
    CHECK(proof::check_two_sides(square(20.0), square(20.0)) == 0.0);
    CHECK(proof::check_two_sides(square(20.0), square(20.001)) > 0.0);
    CHECK_THROWS_WITH_AS(proof::check_two_sides(square(20.0), square(21.0)),
                         doctest::Contains("law of the two sides"), GeometryError);
    const Datum datum({1, 2, 3}, {0.3, -0.2, 0.9});
    const Datum behind = proof::seen_from_behind(datum);
    CHECK((behind.x() - datum.x()).norm() < 1e-15);
    CHECK((behind.normal() + datum.normal()).norm() < 1e-15);
}

TEST_CASE("every silhouette says what it was held against") {
    const TopoDS_Shape ball = BRepPrimAPI_MakeSphere(7.0).Shape();
    const ProfileSet quick = bodies::silhouette_of(ball, Datum(Point3(1, 2, 3), {0.2, 0.5, 0.7}));
    CHECK(quick.area() == doctest::Approx(49.0 * pi).epsilon(1e-12));
    REQUIRE(quick.proof().laws().size() == 4);
    CHECK(quick.proof().laws()[0].checks == 1);
    CHECK(quick.proof().laws()[2].checks >= 4);
    CHECK(quick.proof().largest_deviation() < quick.tolerance());
    FlattenOptions options;
    options.verify = Verify::full;
    const ProfileSet full = silhouette(bodies::solids_of(ball), Datum::xz(), options);
    REQUIRE(full.proof().laws().size() == 5);
    CHECK(full.proof().laws()[2].checks > quick.proof().laws()[2].checks + 10);
    CHECK(full.proof().laws()[4].name == "two sides");
    CHECK(ProfileSet(full.profiles()).proof().empty());
    CHECK(full.transformed(Transform2::Identity()).proof().laws().size() == 5);
}
