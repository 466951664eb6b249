/// Sections of tubes, cones, spheres and tori against closed forms and quadrature.

#include <doctest/doctest.h>

#include "flatten/bodies.hpp"
#include "flatten/quadrature.hpp"

using namespace planform;

namespace {

constexpr double to_closed_form = 1e-9;

/// The plane through `origin`: over a turn about the Z axis it is z = height + slope * s, s the
/// coordinate along the horizontal direction in which it climbs.
struct Climb {
    double height;  ///< over the Z axis
    double slope;

    Climb(const Point3& origin, const Vector3& normal)
        : height(origin.dot(normal) / normal.z()), slope(-normal.head<2>().norm() / normal.z()) {}
    /// Lengths in the plane against lengths on the ground, along s.
    double stretch() const { return std::hypot(1.0, slope); }
};

/// Area of the part of a disc of radius r with s <= x: circular segment (any table of formulas).
double disc_below(double r, double x) {
    x = std::clamp(x, -r, r);
    return r * r * (0.5 * pi + std::asin(x / r)) + x * std::sqrt(std::max(0.0, r * r - x * x));
}

/// Length of the ellipse over the circle of radius r, from polar angle 0 to w in [0, pi], s = r cos
/// w: incomplete elliptic integral of the second kind (NIST Digital Library of Mathematical
/// Functions, 19.2.5, from memory).
double ellipse_length(double r, double slope, double w) {
    const double size = std::hypot(1.0, slope), k = std::abs(slope) / size;
    return r * size * (std::ellint_2(k, 0.5 * pi) - std::ellint_2(k, 0.5 * pi - w));
}

struct Measure {
    double area = 0.0;
    double length = 0.0;
};

/// Section of the cylinder of radius r about the Z axis between z = low and high, its chords at the
/// ends apart.
Measure cylinder_section(double r, double low, double high, const Climb& plane, double& chords) {
    double from = (low - plane.height) / plane.slope, to = (high - plane.height) / plane.slope;
    if (from > to) std::swap(from, to);
    from = std::clamp(from, -r, r);
    to = std::clamp(to, -r, r);
    chords = 2.0 * std::sqrt((r - from) * (r + from)) + 2.0 * std::sqrt((r - to) * (r + to));
    Measure m;
    m.area = plane.stretch() * (disc_below(r, to) - disc_below(r, from));
    m.length = 2.0 * (ellipse_length(r, plane.slope, std::acos(from / r)) -
                      ellipse_length(r, plane.slope, std::acos(to / r)));
    return m;
}

/// Half the chord of a body of revolution about Z at ground coordinate s: given its squared radius
/// there.
using HalfChord = std::function<double(double)>;

}  // namespace

TEST_CASE("a tube by 10,000 random planes: an elliptical annulus, partly cut by the ends") {
    const double R = 10.0, r = 7.0, low = -15.0, high = 15.0;
    const gp_Ax2 axis(gp_Pnt(0, 0, low), gp_Dir(0, 0, 1));
    const auto tube =
        bodies::solids_of(BRepAlgoAPI_Cut(BRepPrimAPI_MakeCylinder(axis, R, high - low).Shape(),
                                          BRepPrimAPI_MakeCylinder(axis, r, high - low).Shape())
                              .Shape());
    std::mt19937_64 random(41);
    std::uniform_real_distribution<double> place(-18.0, 18.0);
    int cut_by_ends = 0, whole = 0, empty = 0;
    double worst_area = 0.0, worst_length = 0.0;
    for (int i = 0; i < 10000; ++i) {
        const Point3 origin(place(random), place(random), place(random));
        const Vector3 normal = bodies::random_direction(random);
        const Climb plane(origin, normal);
        double outer_chords, inner_chords;
        const Measure outer = cylinder_section(R, low, high, plane, outer_chords);
        const Measure inner = cylinder_section(r, low, high, plane, inner_chords);
        const double area = outer.area - inner.area;
        const double length = outer.length + inner.length + outer_chords - inner_chords;
        CAPTURE(i);
        CAPTURE(origin.transpose());
        CAPTURE(normal.transpose());
        const ProfileSet set = section(tube, Datum(origin, normal));
        if (area < 1e-3) {
            // Thinner than the resolution at this tolerance, or nothing.
            CHECK(std::abs(set.area() - area) < 1e-3);
            ++empty;
            continue;
        }
        (inner_chords + outer_chords > 0.0 ? cut_by_ends : whole) += 1;
        worst_area = std::max(worst_area, std::abs(set.area() / area - 1.0));
        worst_length = std::max(worst_length, std::abs(set.length() / length - 1.0));
        if (std::abs(set.area() / area - 1.0) > to_closed_form ||
            std::abs(set.length() / length - 1.0) > to_closed_form) {
            CHECK(set.area() == doctest::Approx(area).epsilon(to_closed_form));
            CHECK(set.length() == doctest::Approx(length).epsilon(to_closed_form));
        }
    }
    MESSAGE("tube: " << cut_by_ends << " cut by the ends, " << whole << " whole, " << empty
                     << " empty; worst relative error of area " << worst_area << ", of length "
                     << worst_length);
    CHECK(cut_by_ends > 5000);
    CHECK(whole > 500);
    CHECK(worst_area < to_closed_form);
}

namespace {

/// Section of the cone with base radius R at z = 0 and its tip at z = H: at the ground coordinate s
/// the chord is sqrt(r(z)^2 - s^2), z = height + slope s, a square root of a quadratic in s.
Measure cone_section(double R, double H, const Climb& plane) {
    const auto z = [&](double s) { return plane.height + plane.slope * s; };
    const auto square = [&](double s) {
        const double r = R * (1.0 - z(s) / H);
        return (r - s) * (r + s);
    };
    // Ends: base, tip height, roots r = s and r = -s.
    const double t = R / H;
    std::vector<double> stops = {-plane.height / plane.slope, (H - plane.height) / plane.slope,
                                 (R - t * plane.height) / (1.0 + t * plane.slope),
                                 (R - t * plane.height) / (-1.0 + t * plane.slope)};
    std::sort(stops.begin(), stops.end());
    Measure m;
    for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
        const double from = stops[i], to = stops[i + 1], middle = 0.5 * (from + to);
        if (!(z(middle) > 0.0 && z(middle) < H && square(middle) > 0.0)) continue;
        m.area +=
            plane.stretch() *
            quadrature::integrate([&](double s) { return 2.0 * std::sqrt(square(s)); }, from, to);
        const auto speed = [&](double s) {
            const double r = R * (1.0 - z(s) / H);
            const double slope = (-t * plane.slope * r - s) / std::sqrt(square(s));
            return 2.0 * std::hypot(plane.stretch(), slope);
        };
        m.length += quadrature::integrate(speed, from, to, 2000);
        for (const double end : {from, to})
            if (std::abs(z(end)) < 1e-9) m.length += 2.0 * std::sqrt(std::max(0.0, square(end)));
    }
    return m;
}

}  // namespace

TEST_CASE("a cone by random planes: circles, ellipses, parabolas, hyperbolas") {
    const double R = 6.0, H = 12.0;
    const auto cone = bodies::solids_of(BRepPrimAPI_MakeCone(R, 0.0, H).Shape());
    std::mt19937_64 random(42);
    std::uniform_real_distribution<double> place(-5.0, 5.0), up(0.0, 12.0);
    int ellipses = 0, hyperbolas = 0, parabolas = 0;
    const double parabola = H / R;
    for (int i = 0; i < 1500; ++i) {
        const Point3 origin(place(random), place(random), up(random));
        Vector3 normal = bodies::random_direction(random);
        if (i % 5 == 0) {
            // Parallel to a generator: climbs as steeply as the cone falls.
            normal.head<2>() *= parabola * std::abs(normal.z()) / normal.head<2>().norm();
            ++parabolas;
        }
        const Climb plane(origin, normal);
        if (i % 5 != 0) (std::abs(plane.slope) < parabola ? ellipses : hyperbolas) += 1;
        const Measure expected = cone_section(R, H, plane);
        if (expected.area < 0.05) continue;
        const ProfileSet set = section(cone, Datum(origin, normal));
        CAPTURE(i);
        CAPTURE(plane.slope);
        CAPTURE(plane.height);
        CHECK(set.area() == doctest::Approx(expected.area).epsilon(to_closed_form));
        CHECK(set.length() == doctest::Approx(expected.length).epsilon(to_closed_form));
        REQUIRE(set.profiles().size() == 1);
        for (const Curve& curve : set.profiles()[0].outer().curves())
            if (const auto* spline = std::get_if<Spline>(&curve)) CHECK(spline->degree == 2);
    }
    CHECK(ellipses > 200);
    CHECK(hyperbolas > 200);
    CHECK(parabolas == 300);
}

TEST_CASE("a plane through a cone's tip cuts a triangle") {
    const double R = 6.0, H = 12.0;
    const auto cone = bodies::solids_of(BRepPrimAPI_MakeCone(R, 0.0, H).Shape());
    for (const double turn : {0.0, 0.4, 2.0, 4.0}) {
        for (const double distance : {0.0, 1.0, 5.0}) {
            CAPTURE(turn);
            CAPTURE(distance);
            // Through the tip and the chord of the base at this distance from the axis.
            const Vector3 out(std::cos(turn), std::sin(turn), 0.0);
            const Vector3 normal = (out * H + distance * Vector3::UnitZ()).normalized();
            const ProfileSet set = section(cone, Datum({0, 0, H}, normal));
            const double chord = 2.0 * std::sqrt(R * R - distance * distance);
            CHECK(set.area() ==
                  doctest::Approx(0.5 * chord * std::hypot(H, distance)).epsilon(to_closed_form));
            REQUIRE(set.profiles().size() == 1);
            CHECK(set.profiles()[0].outer().curves().size() == 3);
        }
    }
}

TEST_CASE("a sphere by random planes: one circle") {
    const double R = 7.5;
    const auto sphere = bodies::solids_of(BRepPrimAPI_MakeSphere(R).Shape());
    std::mt19937_64 random(43);
    std::uniform_real_distribution<double> along(-1.0, 1.0);
    for (int i = 0; i < 2000; ++i) {
        const Vector3 normal = bodies::random_direction(random);
        const double height =
            i % 4 == 0 ? R * (1.0 - 1e-6 * (1.1 + along(random))) : R * along(random);
        const ProfileSet set = section(sphere, Datum(height * normal, normal));
        const double square = (R - height) * (R + height);
        CAPTURE(height);
        REQUIRE(set.profiles().size() == 1);
        CHECK(set.profiles()[0].outer().is_circle());
        CHECK(set.area() == doctest::Approx(pi * square).epsilon(to_closed_form));
        CHECK(set.length() == doctest::Approx(2 * pi * std::sqrt(square)).epsilon(to_closed_form));
    }
}

TEST_CASE("the volume of a sphere from 101 sections by Simpson's rule") {
    // Areas are a quadratic in the height, for which Simpson's rule is exact.
    const double r = 5.0;
    const auto sphere = bodies::solids_of(BRepPrimAPI_MakeSphere(r).Shape());
    std::vector<double> offsets;
    for (int i = 0; i <= 100; ++i) offsets.push_back(-r + 2.0 * r * i / 100);
    const std::vector<ProfileSet> stack = sections(sphere, Datum::xy(), offsets);
    REQUIRE(stack.size() == 101);
    double sum = 0.0;
    for (int i = 0; i <= 100; ++i) {
        const double weight = i == 0 || i == 100 ? 1.0 : (i % 2 == 1 ? 4.0 : 2.0);
        sum += weight * stack[static_cast<std::size_t>(i)].area();
    }
    CHECK(sum * (2.0 * r / 100) / 3.0 == doctest::Approx(4.0 / 3.0 * pi * r * r * r).epsilon(1e-9));
}
