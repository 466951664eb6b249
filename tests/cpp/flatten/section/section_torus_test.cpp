/// Sections of tori.

#include <doctest/doctest.h>

#include <BRepBuilderAPI_Transform.hxx>
#include <gp_Trsf.hxx>

#include "flatten/bodies.hpp"
#include "flatten/quadrature.hpp"

using namespace planform;

namespace {

constexpr double R = 10.0, r = 3.0;

std::vector<Solid> torus() { return bodies::solids_of(BRepPrimAPI_MakeTorus(R, r).Shape()); }

/// Area of the plane z = height + slope s in the torus about Z: at each s the chord across lies
/// between the two circles of radius R -+ w about the axis, w^2 = r^2 - z^2.
double torus_section_area(double height, double slope) {
    const auto half_width = [&](double s) {
        const double z = height + slope * s;
        return std::sqrt(std::max(0.0, (r - z) * (r + z)));
    };
    const auto outer = [&](double s) { return (R + half_width(s) - s) * (R + half_width(s) + s); };
    const auto inner = [&](double s) { return (R - half_width(s) - s) * (R - half_width(s) + s); };
    double low = -R - r, high = R + r;
    if (std::abs(slope) > 1e-12) {
        const double a = (-r - height) / slope, b = (r - height) / slope;
        low = std::max(low, std::min(a, b));
        high = std::min(high, std::max(a, b));
    }
    if (low >= high) return 0.0;
    std::vector<double> stops = {low, high};
    for (const auto& f :
         {std::function<double(double)>(outer), std::function<double(double)>(inner)})
        for (const double zero : quadrature::zeros(f, low, high)) stops.push_back(zero);
    std::sort(stops.begin(), stops.end());
    double area = 0.0;
    for (std::size_t i = 0; i + 1 < stops.size(); ++i)
        area += quadrature::integrate(
            [&](double s) {
                return 2.0 *
                       (std::sqrt(std::max(0.0, outer(s))) - std::sqrt(std::max(0.0, inner(s))));
            },
            stops[i], stops[i + 1], 2000);
    return std::hypot(1.0, slope) * area;
}

Datum tilted_plane(double height, double slope, double turn) {
    return Datum({0, 0, height}, {-slope * std::cos(turn), -slope * std::sin(turn), 1.0});
}

std::size_t poles_of(const ProfileSet& set) {
    std::size_t count = 0;
    for (const Profile& profile : set.profiles()) {
        std::vector<Contour> contours = profile.holes();
        contours.push_back(profile.outer());
        for (const Contour& contour : contours)
            for (const Curve& curve : contour.curves())
                if (const Spline* spline = std::get_if<Spline>(&curve))
                    count += spline->poles.size();
    }
    return count;
}

}  // namespace

TEST_CASE("planes through a torus' axis cut two circles") {
    for (const double turn : {0.0, 0.3, 1.5, 3.0}) {
        CAPTURE(turn);
        const ProfileSet set =
            section(torus(), Datum({0, 0, 0}, {std::cos(turn), std::sin(turn), 0.0}));
        REQUIRE(set.profiles().size() == 2);
        for (const Profile& profile : set.profiles()) {
            CHECK(profile.outer().is_circle());
            CHECK(profile.area() == doctest::Approx(pi * r * r).epsilon(1e-9));
        }
    }
}

TEST_CASE("Villarceau's planes cut two circles of the centre circle's radius") {
    // Y. Villarceau, Nouvelles annales de mathematiques 7 (1848): a plane through the centre that
    // touches the torus twice cuts it in two circles of radius R, whose centres lie r from the
    // torus' centre.
    const double slope = std::tan(std::asin(r / R));
    for (const double turn : {0.0, 0.7, 2.9, 5.0}) {
        CAPTURE(turn);
        const Datum datum = tilted_plane(0.0, slope, turn);
        const ProfileSet set = section(torus(), datum);
        const Vector3 axis(-std::sin(turn), std::cos(turn), 0.0);
        const Point2 centers[2] = {datum.to_datum(r * axis).head<2>(),
                                   datum.to_datum(-r * axis).head<2>()};
        double worst = 0.0;
        int points_seen = 0;
        for (const Profile& profile : set.profiles()) {
            std::vector<Contour> contours = profile.holes();
            contours.push_back(profile.outer());
            for (const Contour& contour : contours)
                for (const Point2& p : contour.points(1e-6)) {
                    const double off = std::min(std::abs((p - centers[0]).norm() - R),
                                                std::abs((p - centers[1]).norm() - R));
                    worst = std::max(worst, off);
                    ++points_seen;
                }
        }
        CHECK(points_seen > 100);
        CHECK(worst < 1e-6);
        // Two circles less twice their lens.
        const double lens = 2.0 * R * R * std::acos(r / R) - 2.0 * r * std::sqrt(R * R - r * r);
        CHECK(set.area() == doctest::Approx(2.0 * (pi * R * R - lens)).epsilon(1e-6));
    }
}

TEST_CASE("other planes: area against quadrature") {
    std::mt19937_64 random(44);
    std::uniform_real_distribution<double> height(-9.0, 9.0), turn(0.0, 2.0 * pi),
        tilt(0.0, 0.5 * pi);
    const std::vector<Solid> solid = torus();
    int cut = 0;
    double worst = 0.0;
    for (int i = 0; i < 600; ++i) {
        const double slope = std::tan(i % 3 == 0 ? 1e-3 * tilt(random) : tilt(random));
        const double z = i % 3 == 0 ? height(random) / 3.0 : height(random);
        const double expected = torus_section_area(z, slope);
        const ProfileSet set = section(solid, tilted_plane(z, slope, turn(random)), 0.0, {1e-4});
        CAPTURE(i);
        CAPTURE(slope);
        CAPTURE(z);
        if (expected < 0.01) {
            CHECK(std::abs(set.area() - expected) < 1e-4);
            continue;
        }
        ++cut;
        worst = std::max(worst, std::abs(set.area() / expected - 1.0));
        CHECK(set.area() == doctest::Approx(expected).epsilon(1e-6));
    }
    MESSAGE("torus: " << cut << " planes, worst relative error of area " << worst);
    CHECK(cut > 300);
}

TEST_CASE("a torus' small loops are found however small") {
    // At height h above the highest point minus a little, across the axis: small ovals.
    const std::vector<Solid> solid = torus();
    for (const double depth : {1e-2, 1e-4, 1e-5}) {
        for (const double slope : {0.2, 0.6, 3.0}) {
            CAPTURE(depth);
            CAPTURE(slope);
            // The highest plane of this slope touches where the tube's normal is the plane's.
            const double top = R * slope + r * std::hypot(1.0, slope);
            const double expected = torus_section_area(top - depth, slope);
            const ProfileSet set =
                section(solid, tilted_plane(top - depth, slope, 0.9), 0.0, {1e-4});
            REQUIRE(set.profiles().size() == 1);
            CHECK(set.area() == doctest::Approx(expected).epsilon(1e-4));
        }
    }
}

TEST_CASE("a torus far from the origin: a section has no more poles than near it") {
    // The rounding of far coordinates once was halved for, without end.
    gp_Trsf far;
    far.SetTranslation(gp_Vec(3e5, -2e5, 1.5e5));
    const auto moved = bodies::solids_of(
        BRepBuilderAPI_Transform(BRepPrimAPI_MakeTorus(2.0, 0.6).Shape(), far).Shape());
    for (const double height : {-0.5, -0.1, 0.2, 0.45}) {
        CAPTURE(height);
        const Datum near = Datum({0, 0, height}, {0.3, -0.2, 1.0});
        const Datum there = Datum({3e5, -2e5, 1.5e5 + height}, {0.3, -0.2, 1.0});
        const auto near_solids = bodies::solids_of(BRepPrimAPI_MakeTorus(2.0, 0.6).Shape());
        const ProfileSet expected = section(near_solids, near), set = section(moved, there);
        CHECK(set.area() == doctest::Approx(expected.area()).epsilon(1e-7));
        CHECK(poles_of(set) <= 2 * poles_of(expected));
        CHECK(poles_of(expected) > 20);
    }
}
