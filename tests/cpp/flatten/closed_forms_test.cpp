/// Silhouettes against closed forms, 1e-9 relative in area and length.

#include <doctest/doctest.h>

#include <algorithm>

#include "flatten/bodies.hpp"
#include "model/heal/broken_boundaries.hpp"

using namespace planform;
using bodies::silhouette_of;

namespace {

constexpr double precision = 1e-9;

/// Perimeter of an ellipse with half axes a >= b: 4 a E(k), k^2 = 1 - b^2 / a^2 (NIST Digital
/// Library of Mathematical Functions, 19.30.5, from memory).
double ellipse_perimeter(double a, double b) {
    return 4.0 * a * std::comp_ellint_2(std::sqrt(std::max(0.0, 1.0 - b * b / (a * a))));
}

const std::vector<double> tilts = {0.0, 1e-5, 1e-3, 0.1,           0.5,           0.9,
                                   1.2, 1.5,  1.57, pi / 2 - 1e-5, pi / 2 - 1e-7, pi / 2};

}  // namespace

TEST_CASE("one solid is a solid, not a span") {
    const Solid solid = from_shape(BRepPrimAPI_MakeBox(10.0, 20.0, 30.0).Shape()).solids()[0];
    const ProfileSet shadow = silhouette(solid, Datum::xy());
    CHECK(shadow.area() == doctest::Approx(200.0).epsilon(precision));
    CHECK(shadow == silhouette({&solid, 1}, Datum::xy()));
    const ProfileSet cut = section(solid, Datum::xy(), 15.0);
    CHECK(cut.area() == doctest::Approx(200.0).epsilon(precision));
    CHECK(cut == section({&solid, 1}, Datum::xy(), 15.0));
}

TEST_CASE("a box in general position: the shadow is the sum of its faces' projections") {
    std::mt19937_64 random(11);
    const TopoDS_Shape box = BRepPrimAPI_MakeBox(10.0, 20.0, 30.0).Shape();
    for (int i = 0; i < 200; ++i) {
        const Datum datum = bodies::random_datum(random);
        const Vector3 n = datum.normal().cwiseAbs();
        const ProfileSet set = silhouette_of(box, datum);
        REQUIRE(set.profiles().size() == 1);
        CHECK(set.area() ==
              doctest::Approx(600 * n.x() + 300 * n.y() + 200 * n.z()).epsilon(precision));
        // The outline is made of each edge direction twice: its length is twice the sum of their
        // shadows.
        const auto shadow = [&](double length, double cosine) {
            return length * std::sqrt(1.0 - cosine * cosine);
        };
        CHECK(set.length() ==
              doctest::Approx(2.0 * (shadow(10, n.x()) + shadow(20, n.y()) + shadow(30, n.z())))
                  .epsilon(precision));
        CHECK(set.profiles()[0].outer().curves().size() == 6);
    }
}

TEST_CASE("a cylinder tilted by any angle: two half ellipses and two lines") {
    const double r = 5.0, h = 20.0;
    const TopoDS_Shape cylinder = BRepPrimAPI_MakeCylinder(r, h).Shape();
    for (const double tilt : tilts) {
        CAPTURE(tilt);
        const double c = std::cos(tilt), s = std::sin(tilt);
        const ProfileSet set = silhouette_of(cylinder, bodies::tilted_datum(tilt, 0.7));
        CHECK(set.area() == doctest::Approx(pi * r * r * c + 2 * r * h * s).epsilon(precision));
        CHECK(set.length() ==
              doctest::Approx(ellipse_perimeter(r, r * c) + 2 * h * s).epsilon(precision));
    }
}

TEST_CASE("a cylinder whose wall's boundary is given a period apart, or goes twice round") {
    // The shadow of a convex body of revolution: 2 r h sin + pi r^2 cos of the tilt.
    constexpr double r = test::radius, h = test::height;
    std::mt19937_64 random(17);
    for (const TopoDS_Shape& body : {test::rim_apart(), test::twice_round()}) {
        for (int i = 0; i < 20; ++i) {
            const Datum datum = i == 0 ? Datum::xz() : bodies::random_datum(random);
            const double cosine = std::abs(datum.normal().z());
            const double expected =
                2.0 * r * h * std::sqrt(1.0 - cosine * cosine) + pi * r * r * cosine;
            CHECK(silhouette_of(body, datum).area() ==
                  doctest::Approx(expected).epsilon(precision));
        }
    }
}

TEST_CASE("details finer than a thousandth of the tolerance need a smaller tolerance") {
    // Tilted by 1e-7 the two rims stand 2e-6 mm apart: one circle at tolerance 0.01, two at 1e-4.
    const double r = 5.0, h = 20.0, tilt = 1e-7;
    const TopoDS_Shape cylinder = BRepPrimAPI_MakeCylinder(r, h).Shape();
    const double area = pi * r * r * std::cos(tilt) + 2 * r * h * std::sin(tilt);
    const Datum datum = bodies::tilted_datum(tilt, 0.7);
    CHECK(std::abs(silhouette_of(cylinder, datum, 0.01).area() - area) < 2 * pi * r * 1e-5);
    CHECK(silhouette_of(cylinder, datum, 1e-4).area() == doctest::Approx(area).epsilon(precision));
}

TEST_CASE("a cone tilted by any angle: the hull of an ellipse and a point") {
    // Stretched so that the ellipse is a circle of radius r, the tip is at distance d = h
    // tan(tilt): tangents from a point to a circle. Elementary geometry.
    const double r = 5.0, h = 12.0;
    const TopoDS_Shape cone = BRepPrimAPI_MakeCone(r, 0.0, h).Shape();
    for (const double tilt : tilts) {
        CAPTURE(tilt);
        const double c = std::cos(tilt), s = std::sin(tilt);
        const double d = c > 1e-12 ? h * s / c : 0.0;
        double area = pi * r * r * c;
        if (c <= 1e-12) area = r * h;
        if (d > r) area = c * (r * r * (pi - std::acos(r / d)) + r * std::sqrt(d * d - r * r));
        CHECK(silhouette_of(cone, bodies::tilted_datum(tilt, 2.1)).area() ==
              doctest::Approx(area).epsilon(precision));
    }
}

TEST_CASE("a sphere from anywhere is one circle") {
    std::mt19937_64 random(5);
    const TopoDS_Shape sphere = BRepPrimAPI_MakeSphere(7.5).Shape();
    std::vector<Datum> datums = {Datum::xy(), Datum::xz(), Datum::yz()};
    for (int i = 0; i < 200; ++i) datums.push_back(bodies::random_datum(random));
    for (const Datum& datum : datums) {
        const ProfileSet set = silhouette_of(sphere, datum);
        REQUIRE(set.profiles().size() == 1);
        CHECK(set.profiles()[0].outer().is_circle());
        CHECK(set.area() == doctest::Approx(pi * 7.5 * 7.5).epsilon(precision));
        CHECK(set.length() == doctest::Approx(2 * pi * 7.5).epsilon(precision));
    }
}

TEST_CASE("a torus along its axis is a ring, across it a stadium, of lines and arcs") {
    const TopoDS_Shape torus = BRepPrimAPI_MakeTorus(10.0, 3.0).Shape();
    const ProfileSet ring = silhouette_of(torus, Datum::xy());
    REQUIRE(ring.profiles().size() == 1);
    REQUIRE(ring.profiles()[0].holes().size() == 1);
    CHECK(ring.profiles()[0].outer().is_circle());
    CHECK(ring.profiles()[0].holes()[0].is_circle());
    CHECK(ring.area() == doctest::Approx(pi * (13.0 * 13.0 - 7.0 * 7.0)).epsilon(precision));
    for (const double turn : {0.0, 0.3, pi / 2, 2.0}) {
        CAPTURE(turn);
        const ProfileSet stadium = silhouette_of(torus, bodies::tilted_datum(pi / 2, turn));
        CHECK(stadium.area() == doctest::Approx(pi * 9.0 + 20.0 * 6.0).epsilon(precision));
        CHECK(stadium.length() == doctest::Approx(2 * pi * 3.0 + 40.0).epsilon(precision));
        REQUIRE(stadium.profiles().size() == 1);
        for (const Curve& curve : stadium.profiles()[0].outer().curves())
            CHECK((std::holds_alternative<Line>(curve) || std::holds_alternative<Arc>(curve)));
    }
}

TEST_CASE("a tilted torus: Steiner's formula for the parallel curves of an ellipse") {
    // Area of the outer parallel curve at distance r of a convex curve of length L and area A:
    // A + r L + pi r^2; of the inner one, as long as r is below the radius of curvature everywhere
    // (b^2 / a for an ellipse): A - r L + pi r^2. (J. Steiner, 1840; any text on convex geometry.)
    const double R = 10.0, r = 3.0;
    const TopoDS_Shape torus = BRepPrimAPI_MakeTorus(R, r).Shape();
    // At 1e-3 the outline is 1.5e-6 mm from an ellipse (the outer equator): one curve at this
    // resolution.
    for (const double tilt : {0.01, 0.3, 0.7, 0.98, 1.1, 1.3, 1.5, 1.56}) {
        CAPTURE(tilt);
        const double b = R * std::cos(tilt), L = ellipse_perimeter(R, b);
        const ProfileSet set = silhouette_of(torus, bodies::tilted_datum(tilt, 0.4));
        REQUIRE(set.profiles().size() == 1);
        const Profile& profile = set.profiles()[0];
        CHECK(profile.outer().area() ==
              doctest::Approx(pi * R * b + r * L + pi * r * r).epsilon(precision));
        CHECK(profile.outer().length() == doctest::Approx(L + 2 * pi * r).epsilon(precision));
        if (b * b / R <= r) continue;  // the inner curve has cusps, the hole is a part of it
        REQUIRE(profile.holes().size() == 1);
        CHECK(-profile.holes()[0].area() ==
              doctest::Approx(pi * R * b - r * L + pi * r * r).epsilon(precision));
        CHECK(profile.holes()[0].length() == doctest::Approx(L - 2 * pi * r).epsilon(precision));
    }
}

TEST_CASE("a plate with holes: exact circles and slots") {
    const ProfileSet set = silhouette_of(bodies::drilled_plate(), Datum::xy());
    REQUIRE(set.profiles().size() == 1);
    const Profile& plate = set.profiles()[0];
    CHECK(plate.outer().area() == doctest::Approx(9600.0).epsilon(precision));
    REQUIRE(plate.holes().size() == 3);
    CHECK(std::count_if(plate.holes().begin(), plate.holes().end(),
                        [](const Contour& hole) { return hole.is_circle(); }) == 2);
    const double holes = pi * (16.0 + 6.5 * 6.5) + 20.0 * 6.0 + pi * 9.0;
    CHECK(set.area() == doctest::Approx(9600.0 - holes).epsilon(precision));
    CHECK(set.length() ==
          doctest::Approx(400.0 + 2 * pi * 10.5 + 40.0 + 2 * pi * 3.0).epsilon(precision));
    for (const Contour& hole : plate.holes()) {
        if (hole.is_circle())
            CHECK(hole.curves().size() == 1);
        else
            CHECK(hole.curves().size() == 4);
    }
    CHECK(plate.outer().curves().size() == 4);
}
