#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <string>

#include "planform/error.hpp"
#include "profile/outlines.hpp"

using namespace planform;
using doctest::Approx;

namespace {

std::string message_of(const std::vector<Curve>& curves, ErrorKind expected) {
    try {
        Contour contour(curves);
    } catch (const GeometryError& error) {
        CHECK(error.kind() == expected);
        return error.what();
    }
    FAIL("no error");
    return {};
}

}  // namespace

TEST_CASE("area, length and box of a slot") {
    const Contour slot(outlines::slot(30.0, 4.0));
    CHECK(slot.area() == Approx(30 * 8 + 16 * pi).epsilon(1e-14));
    CHECK(slot.length() == Approx(60 + 8 * pi).epsilon(1e-14));
    CHECK((slot.bounds().min() - Point2(-4, -4)).norm() < 1e-14);
    CHECK((slot.bounds().max() - Point2(34, 4)).norm() < 1e-14);
    CHECK_FALSE(slot.is_circle());
}

TEST_CASE("the area is the shoelace formula's for polygons, near and far from the origin") {
    const std::vector<Point2> corners{{0, 0}, {7, 1}, {5, 6}, {2, 3}, {-1, 5}};
    double shoelace = 0.0;
    for (std::size_t i = 0; i < corners.size(); ++i)
        shoelace += 0.5 * cross(corners[i], corners[(i + 1) % corners.size()]);
    CHECK(Contour(outlines::polygon(corners)).area() == Approx(shoelace).epsilon(1e-15));
    // A shift by a power of two keeps these coordinates exact: so must the area be.
    std::vector<Point2> far = corners;
    for (Point2& corner : far) corner += Vector2(1048576.0, -1048576.0);
    CHECK(Contour(outlines::polygon(far)).area() == Approx(shoelace).epsilon(1e-15));
}

TEST_CASE("reversing and transforming keep provenance in step") {
    std::vector<Provenance> provenance;
    for (int i = 0; i < 4; ++i) provenance.push_back({Provenance::Kind::edge, 0, i + 1});
    const Contour contour(outlines::mixed(), provenance);
    CHECK(contour.area() > 0.0);
    const Contour back = contour.reversed();
    CHECK(back.area() == Approx(-contour.area()).epsilon(1e-14));
    CHECK(back.length() == Approx(contour.length()).epsilon(1e-14));
    for (int i = 0; i < 4; ++i) {
        CHECK(back.provenance()[i].entity == 4 - i);
        CHECK(back.curves()[i].index() == contour.curves()[3 - i].index());
    }
    Transform2 mirror = Transform2::Identity();
    mirror.linear() << -2, 0, 0, 3;
    const Contour image = contour.transformed(mirror);
    CHECK(image.area() == Approx(6 * contour.area()).epsilon(1e-13));
    for (int i = 0; i < 4; ++i) CHECK(image.provenance()[i].entity == 4 - i);
    const Contour turned = contour.transformed(Transform2(Eigen::Rotation2Dd(1.0)));
    CHECK(turned.area() == Approx(contour.area()).epsilon(1e-13));
    CHECK(turned.provenance()[2].entity == 3);
}

TEST_CASE("a gap is named with its place and size") {
    std::vector<Curve> open = outlines::polygon({{0, 0}, {10, 0}, {10, 10}});
    std::get<Line>(open[1]).end = {10, 9.5};
    const std::string message = message_of(open, ErrorKind::contour_not_closed);
    CHECK(message.find("curve 2 ends at (10, 9.5)") != std::string::npos);
    CHECK(message.find("curve 3 starts at (10, 10)") != std::string::npos);
    CHECK(message.find("0.5 mm") != std::string::npos);
    message_of({Line{{0, 0}, {5, 0}}}, ErrorKind::contour_not_closed);
    message_of({Arc{{0, 0}, 1.0, 0.0, pi}}, ErrorKind::contour_not_closed);
}

TEST_CASE("closure is relative to the size") {
    for (const double size : {1e-3, 1.0, 1e5}) {
        std::vector<Curve> curves = outlines::polygon({{0, 0}, {size, 0}, {size, size}, {0, size}});
        const double diagonal = size * std::sqrt(2.0);
        std::get<Line>(curves[1]).end.x() += 0.9 * Contour::closure * diagonal;
        CHECK_NOTHROW(Contour{curves});
        std::get<Line>(curves[1]).end.x() += 0.2 * Contour::closure * diagonal;
        CHECK_THROWS_AS(Contour{curves}, GeometryError);
    }
}

TEST_CASE("a small gap counts as closed by a straight line") {
    const double gap = 5e-6;
    std::vector<Curve> curves = outlines::polygon({{0, 0}, {10, 0}, {10, 10}, {0, 10}});
    std::get<Line>(curves[1]).end.x() += gap;
    // A triangle of base 10 and height `gap` beside the square's right edge comes on top.
    CHECK(Contour(curves).area() == Approx(100 + 0.5 * 10 * gap).epsilon(1e-14));
}

TEST_CASE("ends that miss by rounding are made the same point where one may move") {
    std::vector<Curve> curves = outlines::slot(30.0, 4.0);
    std::get<Line>(curves[0]).end += Vector2(1e-10, -1e-10);
    std::get<Line>(curves[2]).start += Vector2(1e-10, 1e-10);
    const Contour slot(curves);
    for (std::size_t i = 0; i < 4; ++i)
        CHECK(end_point(slot.curves()[i]) == start_point(slot.curves()[(i + 1) % 4]));
    // A closed spline's own ends too.
    Spline closed{3, {0, 0, 0, 0, 1, 1, 1, 1}, {{0, 0}, {9, 0}, {0, 9}, {1e-10, 0}}, {}};
    const Contour loop({closed});
    CHECK(end_point(loop.curves()[0]) == start_point(loop.curves()[0]));
}

TEST_CASE("a line is not led aside by what a spline gives way to") {
    const double gap = 1e-8;
    std::vector<Curve> curves = outlines::slot(30.0, 4.0);
    std::get<Line>(curves[0]).end.y() += gap;
    const Contour slot(curves);
    CHECK(end_point(slot.curves()[0]) == end_point(curves[0]));
    const Point2 a(0, 0), b(10, 0), c(10, 10);
    const Contour wedge({Line{a, b}, Line{b, c},
                         Spline{2, {0, 0, 0, 1, 1, 1}, {c, {0, 10}, a + Vector2(gap, 0)}, {}}});
    CHECK(start_point(wedge.curves()[0]) == a);
    CHECK(end_point(wedge.curves()[2]) == a);
}

TEST_CASE("circles are found whatever they are made of") {
    CHECK(outlines::circle({3, 4}, 2.0, 0.7).is_circle());
    CHECK(Contour({Arc{{3, 4}, 2, 0, -2 * pi}}).is_circle());
    CHECK(Contour({Arc{{3, 4}, 2, 0, pi}, Arc{{3, 4}, 2, pi, pi}}).is_circle());
    CHECK(Contour({Arc{{3, 4}, 2, 0, 1}, Arc{{3, 4}, 2, 1, 2}, Arc{{3, 4}, 2, 3, 2 * pi - 3}})
              .is_circle());
    const double w = std::sqrt(0.5);
    const Spline spline{
        2,
        {0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4},
        {{1, 0}, {1, 1}, {0, 1}, {-1, 1}, {-1, 0}, {-1, -1}, {0, -1}, {1, -1}, {1, 0}},
        {1, w, 1, w, 1, w, 1, w, 1}};
    CHECK(Contour({spline}).is_circle());
    CHECK_FALSE(Contour({EllipticalArc{{0, 0}, {2, 0}, 0.999, 0, 2 * pi}}).is_circle());
    // A lens of two equal arcs is no circle.
    const Point2 left(-std::sqrt(3.0), 0);
    CHECK_FALSE(
        Contour({Arc{left, 2, -pi / 6, pi / 3}, Arc{-left, 2, 5 * pi / 6, pi / 3}}).is_circle());
}

TEST_CASE("polyline vertices: none twice, near the contour, area within perimeter x tolerance") {
    const Contour contour(outlines::mixed());
    for (const double tolerance : {0.1, 1e-3, 1e-5}) {
        const std::vector<Point2> vertices = contour.points(tolerance);
        double area = 0.0;
        for (std::size_t i = 0; i < vertices.size(); ++i) {
            const Point2& next = vertices[(i + 1) % vertices.size()];
            CHECK((next - vertices[i]).norm() > 1e-9);
            area += 0.5 * cross(vertices[i], next);
        }
        CHECK(std::abs(area - contour.area()) < contour.length() * tolerance);
    }
    CHECK(outlines::rectangle(0, 0, 3, 4).points(0.01).size() == 4);
}

TEST_CASE("no curves, bad numbers and stray provenance are refused") {
    message_of({}, ErrorKind::invalid_argument);
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const std::string message =
        message_of({Line{{0, 0}, {1, 0}}, Line{{1, 0}, {0, nan}}}, ErrorKind::invalid_argument);
    CHECK(message.find("curve 2") != std::string::npos);
    message_of({Arc{{0, 0}, HUGE_VAL, 0, 2 * pi}}, ErrorKind::invalid_argument);
    message_of({Line{{1, 1}, {1, 1}}}, ErrorKind::invalid_argument);
    CHECK_THROWS_AS(Contour(outlines::slot(3, 1), {Provenance{}}), GeometryError);
}

TEST_CASE("a lens flatter than the tolerance still has three vertices") {
    // Two arcs of radius 1000 over a chord of 1 mm: 1.25e-4 mm high each.
    const double half = std::asin(0.5 / 1000.0);
    const Contour lens(
        {Arc{Point2(0.0, 1000.0 * std::cos(half)), 1000.0, -pi / 2 - half, 2 * half},
         Arc{Point2(0.0, -1000.0 * std::cos(half)), 1000.0, pi / 2 - half, 2 * half}});
    const std::vector<Point2> vertices = lens.points(0.01);
    CHECK(vertices.size() == 4);
    CHECK(lens.area() == doctest::Approx(1e6 * (2 * half - std::sin(2 * half))).epsilon(1e-6));
}
