#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "curve/shapes.hpp"
#include "planform/error.hpp"

using namespace planform;
using doctest::Approx;

TEST_CASE("a trimmed curve is the same curve between its parameters") {
    std::mt19937 generator(3);
    std::uniform_real_distribution<double> fraction(0.0, 1.0);
    for (const auto& [name, curve] : shapes::all())
        for (int repeat = 0; repeat < 20; ++repeat) {
            CAPTURE(name);
            double from = shapes::parameter(curve, fraction(generator));
            double to = shapes::parameter(curve, fraction(generator));
            if (from > to) std::swap(from, to);
            const Curve piece = trimmed(curve, from, to);
            CHECK(piece.index() == curve.index());
            for (int i = 0; i <= 10; ++i) {
                const double t = from + (to - from) * i / 10.0;
                CHECK((point_at(piece, shapes::parameter(piece, i / 10.0)) - point_at(curve, t))
                          .norm() < 1e-12);
            }
            if (const Spline* spline = std::get_if<Spline>(&piece)) {
                CHECK(domain(piece).first == from);
                CHECK(domain(piece).last == to);
                CHECK_NOTHROW(check_curve(*spline));
            }
        }
}

TEST_CASE("a piece of a spline of many spans is the same curve, wherever it is cut out") {
    std::mt19937 random(5);
    const auto any = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    for (const int degree : {1, 2, 3, 5}) {
        Spline spline{degree, {}, {}, {}};
        const int poles = 60;
        for (int i = 0; i < poles; ++i) {
            spline.poles.emplace_back(i + any(-0.4, 0.4), any(-3.0, 3.0));
            if (degree == 3) spline.weights.push_back(any(0.5, 2.0));
        }
        for (int i = 0; i <= degree; ++i) spline.knots.push_back(0.0);
        // Some knots stand twice.
        for (int i = 1; i < poles - degree; ++i)
            spline.knots.push_back(i - (degree > 1 && i % 7 == 0));
        for (int i = 0; i <= degree; ++i) spline.knots.push_back(poles - degree);
        for (int i = 0; i < 60; ++i) {
            double from = any(0.0, poles - degree - 0.2), to = any(from + 0.1, poles - degree);
            if (i % 3 == 0) to = std::min(to, from + 1.5);
            if (i % 4 == 0) from = std::floor(from);
            if (i % 5 == 0) to = std::ceil(to);
            CAPTURE(degree);
            CAPTURE(from);
            CAPTURE(to);
            const Curve piece = trimmed(spline, from, to);
            for (int k = 0; k <= 20; ++k) {
                const double t = from + (to - from) * k / 20;
                CHECK((point_at(piece, t) - point_at(spline, t)).norm() < 1e-12);
            }
        }
    }
}

TEST_CASE("trimming at knots neither adds nor keeps needless poles") {
    const Spline middle = std::get<Spline>(trimmed(shapes::wave(), 2.0, 4.0));
    CHECK(middle.poles.size() == 4);
    CHECK(middle.knots == std::vector<double>{2, 2, 2, 2, 4, 4, 4, 4});
    // The next double after a knot is that knot, but the domain is the one asked for.
    const double beside = std::nextafter(2.0, 3.0);
    const Spline near = std::get<Spline>(trimmed(shapes::wave(), beside, 4.0));
    CHECK(near.poles.size() == 4);
    CHECK(near.knots.front() == beside);
}

TEST_CASE("trimming wants ascending parameters") {
    CHECK_THROWS_AS(trimmed(Line{{0, 0}, {1, 0}}, 0.5, 0.5), GeometryError);
    CHECK_THROWS_AS(trimmed(shapes::wave(), 3.0, 2.0), GeometryError);
    CHECK_THROWS_AS(trimmed(shapes::wave(), std::nan(""), 2.0), GeometryError);
}

TEST_CASE("a reversed curve runs through the same points backwards") {
    for (const auto& [name, curve] : shapes::all()) {
        CAPTURE(name);
        const Curve back = reversed(curve);
        CHECK(domain(back).first == domain(curve).first);
        CHECK(domain(back).last == domain(curve).last);
        for (const double fraction : {0.0, 0.2, 0.55, 0.9, 1.0})
            CHECK((point_at(back, shapes::parameter(back, fraction)) -
                   point_at(curve, shapes::parameter(curve, 1.0 - fraction)))
                      .norm() < 1e-12);
        CHECK(length(back) == Approx(length(curve)).epsilon(1e-12));
        CHECK(swept_area(back) == Approx(-swept_area(curve)).epsilon(1e-10));
    }
}

TEST_CASE("an affine map of a curve maps its points, and its area by the determinant") {
    std::mt19937 generator(11);
    for (const auto& [name, curve] : shapes::all())
        for (int repeat = 0; repeat < 20; ++repeat) {
            CAPTURE(name);
            const Transform2 map = shapes::random_map(generator);
            const Curve image = transformed(curve, map);
            for (const double fraction : {0.0, 0.3, 0.62, 1.0}) {
                const double t = shapes::parameter(curve, fraction);
                CHECK((point_at(image, t) - map * point_at(curve, t)).norm() < 1e-11);
            }
            const double about_start = swept_area(curve, start_point(curve));
            CHECK(swept_area(image, map * start_point(curve)) ==
                  Approx(map.linear().determinant() * about_start).epsilon(1e-9));
            if (const EllipticalArc* arc = std::get_if<EllipticalArc>(&image))
                CHECK((arc->ratio > 0.0 && arc->ratio <= 1.0));
        }
}

TEST_CASE("similarities keep an arc an arc, mirror maps turn its sweep") {
    const Arc arc{{2, 3}, 5.0, 0.4, 1.9};
    CHECK(std::get<Arc>(transformed(arc, Transform2::Identity())).start_angle == 0.4);
    Transform2 similar = Transform2::Identity();
    similar.linear() = 3.0 * Eigen::Rotation2Dd(0.8).toRotationMatrix();
    const Arc turned = std::get<Arc>(transformed(arc, similar));
    CHECK(turned.radius == Approx(15.0).epsilon(1e-15));
    CHECK(turned.start_angle == Approx(1.2).epsilon(1e-15));
    CHECK(turned.sweep == 1.9);
    Transform2 mirror = Transform2::Identity();
    mirror.linear() << -1, 0, 0, 1;
    const Arc mirrored = std::get<Arc>(transformed(arc, mirror));
    CHECK(mirrored.sweep == -1.9);
    CHECK((start_point(mirrored) - mirror * start_point(arc)).norm() < 1e-14);
}

TEST_CASE("a circle seen at an angle is the ellipse with ratio cos") {
    // Scaling x by cos 60 degrees: major axis along y, ratio 1/2.
    Transform2 tilt = Transform2::Identity();
    tilt.linear() << 0.5, 0, 0, 1;
    const EllipticalArc ellipse =
        std::get<EllipticalArc>(transformed(Arc{{0, 0}, 4.0, 0.0, 2 * pi}, tilt));
    CHECK(ellipse.ratio == Approx(0.5).epsilon(1e-15));
    CHECK(std::abs(ellipse.major.y()) == Approx(4.0).epsilon(1e-15));
    CHECK(std::abs(ellipse.major.x()) < 1e-15);
}

TEST_CASE("an arc seen edge-on is a line where it runs one way, an error where it turns") {
    Transform2 flat = Transform2::Identity();
    flat.linear() << 1, 0, 0, 0;
    const Line line = std::get<Line>(transformed(Arc{{1, 0}, 2.0, 0.0, pi}, flat));
    CHECK((line.start - Point2(3, 0)).norm() < 1e-14);
    CHECK((line.end - Point2(-1, 0)).norm() < 1e-14);
    CHECK_THROWS_AS(transformed(Arc{{1, 0}, 2.0, -0.5, 1.0}, flat), GeometryError);
    CHECK_THROWS_AS(transformed(EllipticalArc{{0, 0}, {3, 1}, 0.5, 0, 2 * pi}, flat),
                    GeometryError);
    Transform2 point = Transform2::Identity();
    point.linear().setZero();
    CHECK_THROWS_AS(transformed(Arc{{1, 0}, 2.0, 0.0, 1.0}, point), GeometryError);
}

TEST_CASE("with_ends sets the ends of lines and splines and leaves arcs") {
    const Point2 start(0.001, 0.002);
    const Point2 end(9.001, 1.002);
    const Line line = std::get<Line>(with_ends(Line{{0, 0}, {9, 1}}, start, end));
    CHECK(line.start == start);
    CHECK(line.end == end);
    const Curve spline = with_ends(shapes::wave(), start, end);
    CHECK(point_at(spline, 0.0) == start);
    CHECK(point_at(spline, 5.0) == end);
    const Arc arc{{0, 0}, 1.0, 0.0, 1.0};
    CHECK(start_point(with_ends(arc, start, end)) == start_point(arc));
}

TEST_CASE("splines are trimmed at knots that all but coincide") {
    // As sharp turns of approximated curves have them: a bit, some bits, and far more apart.
    for (const double gap : {1.2e-16, 5e-16, 1e-14, 1e-13, 1e-11, 1e-8}) {
        CAPTURE(gap);
        std::vector<double> inner;
        for (const int i : {0, 1, 2, 3, 5, 9}) inner.push_back(0.5 + i * gap);
        Spline spline{6, std::vector<double>(7, 0.0), {}, {}};
        spline.knots.insert(spline.knots.end(), inner.begin(), inner.end());
        spline.knots.insert(spline.knots.end(), 7, 1.0);
        for (int i = 0; i < 13; ++i) {
            const double angle = pi * i / 12.0, radius = 1.0 + 0.1 * (i * 7 % 5);
            spline.poles.emplace_back(radius * std::cos(angle), radius * std::sin(angle));
        }
        int trimmed_pieces = 0;
        for (const double knot : inner)
            for (const auto& [from, to] : {std::pair(0.0, knot), std::pair(knot, 1.0)}) {
                const Curve part = trimmed(spline, from, to);
                CHECK_NOTHROW(check_curve(part));
                CHECK((start_point(part) - point_at(spline, from)).norm() < 1e-12);
                CHECK((end_point(part) - point_at(spline, to)).norm() < 1e-12);
                const double middle = 0.5 * (from + to);
                CHECK((point_at(part, middle) - point_at(spline, middle)).norm() < 1e-12);
                ++trimmed_pieces;
            }
        CHECK(trimmed_pieces == 12);
    }
}
