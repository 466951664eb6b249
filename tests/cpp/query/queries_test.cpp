#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "planform/planform.hpp"

using namespace planform;

namespace {

Contour polygon(const std::vector<Point2>& corners) {
    std::vector<Curve> curves;
    for (std::size_t i = 0; i < corners.size(); ++i)
        curves.push_back(Line{corners[i], corners[(i + 1) % corners.size()]});
    return Contour(std::move(curves));
}

ProfileSet one(Contour contour) { return ProfileSet({Profile(std::move(contour))}); }

}  // namespace

TEST_CASE("a disc: inside, on the circle, outside, in closed form") {
    const OutlineIndex disc(one(Contour({Arc{{3.0, -2.0}, 10.0, 0.3, 2.0 * pi}})));
    std::mt19937 random(7);
    std::uniform_real_distribution<double> place(-12.0, 12.0);
    int inside = 0;
    for (int i = 0; i < 20000; ++i) {
        const Point2 point(3.0 + place(random), -2.0 + place(random));
        const double radius = (point - Point2(3.0, -2.0)).norm();
        REQUIRE(disc.contains(point) == (radius <= 10.0));
        REQUIRE(disc.distance(point) == doctest::Approx(std::abs(radius - 10.0)).epsilon(1e-12));
        inside += disc.contains(point);
    }
    CHECK(inside > 10000);
    for (int i = 0; i < 360; ++i) {
        const double angle = i * pi / 180.0;
        CHECK(disc.contains({3.0 + 10.0 * std::cos(angle), -2.0 + 10.0 * std::sin(angle)}));
    }
    CHECK(disc.distance({3.0, -2.0}) == doctest::Approx(10.0));
}

TEST_CASE("a thin ellipse: distances by its parametric normal") {
    // The point at depth d under the ellipse at the angle a has the distance |d| as long as d is
    // less than the least radius of curvature, b^2 / a.
    const double a = 9.0, b = 3.0;
    const OutlineIndex ellipse(one(Contour({EllipticalArc{{0, 0}, {a, 0}, b / a, 0.0, 2 * pi}})));
    for (int i = 0; i < 400; ++i) {
        const double angle = 2.0 * pi * i / 400.0;
        const Point2 foot(a * std::cos(angle), b * std::sin(angle));
        const Vector2 outward = Vector2(b * std::cos(angle), a * std::sin(angle)).normalized();
        for (const double height : {-0.9, -0.3, -1e-6, 1e-6, 0.5, 4.0}) {
            const Point2 point = foot + height * outward;
            CHECK(ellipse.contains(point) == (height < 0.0));
            CHECK(ellipse.distance(point) == doctest::Approx(std::abs(height)).epsilon(1e-9));
            CHECK((ellipse.nearest(point).point - foot).norm() < 1e-6);
        }
    }
}

TEST_CASE("a spline's distances are those of its finest polyline") {
    const Spline wave{3,
                      {0, 0, 0, 0, 1, 2, 3, 3, 3, 3},
                      {{0, 0}, {5, 12}, {10, -12}, {15, 12}, {20, -12}, {25, 0}},
                      {}};
    const ProfileSet set = one(Contour(
        {wave, Line{{25, 0}, {25, -20}}, Line{{25, -20}, {0, -20}}, Line{{0, -20}, {0, 0}}}));
    const OutlineIndex index(set);
    // The profile may run the other way round than it was given.
    const std::vector<Curve>& curves = set.profiles().front().outer().curves();
    const auto found = std::find_if(curves.begin(), curves.end(), [](const Curve& curve) {
        return std::holds_alternative<Spline>(curve);
    });
    REQUIRE(found != curves.end());
    const double chord_error = 1e-8;
    const std::vector<Point2> vertices = points(wave, chord_error);
    std::mt19937 random(3);
    std::uniform_real_distribution<double> x(-5.0, 30.0), y(-25.0, 15.0);
    int on_wave = 0;
    for (int i = 0; i < 300; ++i) {
        const Point2 point(x(random), y(random));
        const NearestPlace nearest = index.nearest(point);
        double least = 1e9;
        for (std::size_t k = 1; k < vertices.size(); ++k) {
            const Vector2 chord = vertices[k] - vertices[k - 1];
            const double t =
                std::clamp(chord.dot(point - vertices[k - 1]) / chord.squaredNorm(), 0.0, 1.0);
            least = std::min(least, (vertices[k - 1] + t * chord - point).norm());
        }
        CHECK(nearest.distance <= least + chord_error);
        if (nearest.curve != found - curves.begin()) continue;
        ++on_wave;
        CHECK(std::abs(nearest.distance - least) <= chord_error);
        CHECK((point_at(*found, nearest.parameter) - nearest.point).norm() < 1e-9);
    }
    CHECK(on_wave > 100);
}

TEST_CASE("a comb of many teeth: every tooth and every gap, on a level with corners") {
    std::vector<Point2> corners{{0, 0}};
    const int teeth = 500;
    corners.push_back({2.0 * teeth, 0});
    for (int i = teeth - 1; i >= 0; --i) {
        corners.push_back({2.0 * i + 2, 1});
        corners.push_back({2.0 * i + 1, 50});
        corners.push_back({2.0 * i, 1});
    }
    corners.pop_back();
    corners.push_back({0, 1});
    const OutlineIndex comb(one(polygon(corners)));
    for (int i = 0; i < teeth; ++i) {
        for (const double y : {1.0, 1.5, 25.5, 49.0}) {
            CHECK(comb.contains({2.0 * i + 1, y}));
            CHECK(comb.contains({2.0 * i + 0.005, y}) == (y <= 1.0));
        }
        CHECK(comb.distance({2.0 * i + 1, 51.0}) == doctest::Approx(1.0));
    }
}

TEST_CASE("far from the origin and very large arcs") {
    const double far = 1e7, radius = 1e6;
    // A strip bent along a circle of a kilometre.
    const double sweep = 1e-3;
    const auto at = [&](double r, double angle) {
        return Point2(far + r * std::cos(angle), r * std::sin(angle));
    };
    const ProfileSet strip = one(Contour(
        {Arc{{far, 0}, radius, 0.0, sweep}, Line{at(radius, sweep), at(radius - 5, sweep)},
         Arc{{far, 0}, radius - 5, sweep, -sweep}, Line{at(radius - 5, 0), at(radius, 0)}}));
    const OutlineIndex index(strip);
    for (int i = 1; i < 100; ++i) {
        const double angle = sweep * i / 100.0;
        CHECK(index.contains(at(radius - 1e-4, angle)));
        CHECK_FALSE(index.contains(at(radius + 1e-4, angle)));
        CHECK(index.distance(at(radius - 2, angle)) == doctest::Approx(2.0).epsilon(1e-6));
    }
    CHECK(area_moments(strip).area == doctest::Approx(sweep * 5.0 * (radius - 2.5)).epsilon(1e-9));
}

TEST_CASE("motions: lengths scale, bounds move, marks follow") {
    const ProfileSet set =
        ProfileSet({Profile(polygon({{0, 0}, {4, 0}, {4, 2}, {0, 2}}))},
                   {Mark(Contour({Arc{{1, 1}, 0.5, 0.0, 2.0 * pi}}), "cup", 0.25)}, Datum::xz(),
                   0.01, "plate")
            .with_data("{\"order\": 3}");
    const ProfileSet larger = scaled(set, 3.0, {4, 2});
    CHECK(larger.area() == doctest::Approx(72.0));
    CHECK(larger.bounds().max() == Point2(4, 2));
    CHECK(larger.marks()[0].depth() == 0.75);
    CHECK(larger.tolerance() == doctest::Approx(0.03));
    CHECK(larger.data() == set.data());
    CHECK(mirrored(mirrored(set, {1, 2}, {5, 7}), {1, 2}, {5, 7}) == set);
    CHECK(rotated(rotated(set, 0.8, {1, 2}), -0.8, {1, 2}) == set);
    CHECK(moved(set, {3, 4}).bounds().min() == Point2(3, 4));
    CHECK(mirrored(set, {0, 0}, {1, 0}).marks()[0].bounds().center().y() == doctest::Approx(-1.0));
    CHECK_THROWS_AS(mirrored(set, {1, 1}, {1, 1}), GeometryError);
    CHECK_THROWS_AS(scaled(set, 0.0), GeometryError);
    const ProfileSet lines = with_curves(set, SimpleCurves::lines, 0.01);
    CHECK(lines.marks()[0].curves().size() > 8);
    CHECK(lines.profiles()[0] == set.profiles()[0]);
    CHECK(json_text(profile_set_from_json(json_text(set))) == json_text(set));
    CHECK_THROWS_AS(json_text(set.with_data("[1]")), GeometryError);
}
