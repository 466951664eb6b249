#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <random>
#include <string>

#include "planform/datum.hpp"
#include "planform/error.hpp"

using namespace planform;

namespace {

std::string message_of(const Point3& origin, const Vector3& normal,
                       std::optional<Vector3> x = std::nullopt) {
    try {
        Datum datum(origin, normal, x);
    } catch (const GeometryError& error) {
        CHECK(error.kind() == ErrorKind::invalid_argument);
        return error.what();
    }
    FAIL("no error");
    return {};
}

bool same(const Datum& a, const Datum& b) {
    return a.origin() == b.origin() && a.x() == b.x() && a.y() == b.y() && a.normal() == b.normal();
}

}  // namespace

TEST_CASE("the three standard planes") {
    CHECK(Datum::xy().x() == Vector3(1, 0, 0));
    CHECK(Datum::xy().y() == Vector3(0, 1, 0));
    CHECK(Datum::xy().normal() == Vector3(0, 0, 1));
    CHECK(Datum::xz().x() == Vector3(1, 0, 0));
    CHECK(Datum::xz().y() == Vector3(0, 0, 1));
    CHECK(Datum::xz().normal() == Vector3(0, -1, 0));
    CHECK(Datum::yz().x() == Vector3(0, 1, 0));
    CHECK(Datum::yz().y() == Vector3(0, 0, 1));
    CHECK(Datum::yz().normal() == Vector3(1, 0, 0));
    CHECK(same(Datum(Point3::Zero(), {0, 0, 1}), Datum::xy()));
    CHECK(same(Datum(Point3::Zero(), {0, -7, 0}), Datum::xz()));
    CHECK(same(Datum(Point3::Zero(), {2, 0, 0}), Datum::yz()));
}

TEST_CASE("orthonormal to the last digits and right-handed, whatever the input") {
    std::mt19937 generator(1);
    std::normal_distribution<double> number;
    for (int repeat = 0; repeat < 500; ++repeat) {
        const double scale = std::pow(10.0, 12.0 * number(generator));
        const Vector3 normal =
            scale * Vector3(number(generator), number(generator), number(generator));
        std::optional<Vector3> x;
        if (repeat % 3 == 1) x = Vector3(number(generator), number(generator), number(generator));
        // 0.01 mrad off the normal: the perpendicular part keeps few digits.
        if (repeat % 3 == 2) x = normal.normalized() + 1e-5 * Vector3::Random();
        const Datum datum(Point3(1, 2, 3), normal, x);
        CHECK(std::abs(datum.x().norm() - 1) < 1e-15);
        CHECK(std::abs(datum.y().norm() - 1) < 1e-15);
        CHECK(std::abs(datum.normal().norm() - 1) < 1e-15);
        CHECK(std::abs(datum.x().dot(datum.y())) < 1e-15);
        CHECK(std::abs(datum.x().dot(datum.normal())) < 1e-15);
        CHECK(std::abs(datum.y().dot(datum.normal())) < 1e-15);
        CHECK((datum.x().cross(datum.y()) - datum.normal()).norm() < 1e-15);
        if (x && repeat % 3 == 1) CHECK(datum.x().dot(*x) > 0.0);
    }
}

TEST_CASE("without x the model's X axis is used, Y where the normal is along X") {
    const Datum tilted(Point3::Zero(), {1, 0, 1});
    CHECK((tilted.x() - Vector3(1, 0, -1).normalized()).norm() < 1e-15);
    const Datum nearly(Point3::Zero(), {1, 1e-8, 0});
    CHECK(nearly.x().y() > 0.999);
    const Datum clearly(Point3::Zero(), {1, 1e-4, 0});
    CHECK(clearly.x().y() < -0.999);
}

TEST_CASE("points go to the datum and back") {
    const Datum datum({10, -5, 3}, {1, 2, 2}, Vector3(0, 0, 1));
    const Point3 point(4, 7, -9);
    const Point3 local = datum.to_datum(point);
    CHECK((datum.to_model({local.x(), local.y()}, local.z()) - point).norm() < 1e-14);
    CHECK((datum.to_datum(datum.origin())).norm() == 0.0);
    // Height above the plane: (point - origin) . (1, 2, 2) / 3 = (-6 + 24 - 24) / 3.
    CHECK(local.z() == doctest::Approx(-2.0).epsilon(1e-15));
    const Datum up = datum.moved(1.5);
    CHECK(up.to_datum(point).z() == doctest::Approx(-3.5).epsilon(1e-15));
    CHECK(up.to_datum(point).head<2>().isApprox(local.head<2>(), 1e-15));
    CHECK(up.x() == datum.x());
}

TEST_CASE("each wrong argument is named") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const double infinite = std::numeric_limits<double>::infinity();
    CHECK(message_of({0, nan, 0}, {0, 0, 1}).find("origin") != std::string::npos);
    CHECK(message_of({0, 0, 0}, {0, infinite, 1}).find("normal") != std::string::npos);
    CHECK(message_of({0, 0, 0}, {0, 0, 0}).find("normal has length zero") != std::string::npos);
    CHECK(message_of({0, 0, 0}, {0, 0, 1}, Vector3(nan, 0, 0)).find("x has") != std::string::npos);
    CHECK(message_of({0, 0, 0}, {0, 0, 1}, Vector3(0, 0, 0)).find("x has length zero") !=
          std::string::npos);
    CHECK(message_of({0, 0, 0}, {0, 0, 1}, Vector3(1e-9, 0, -5)).find("x is parallel") !=
          std::string::npos);
    CHECK_THROWS_AS(Datum::xy().moved(nan), GeometryError);
    CHECK_NOTHROW(Datum(Point3::Zero(), {0, 0, 1e-300}));
    CHECK_NOTHROW(Datum(Point3::Zero(), {0, 1e300, 1e300}));
}
