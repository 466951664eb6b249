#include <algorithm>
#include <cmath>

#include "flatten/curves/interpolated_fit.hpp"
#include "flatten/curves/projected_curve.hpp"
#include "flatten/zero_sets/branch.hpp"
#include "flatten/zero_sets/branch_parts.hpp"
#include "flatten/zero_sets/level_field.hpp"
#include "flatten/zero_sets/plane_cut.hpp"
#include "flatten/zero_sets/section_revolution.hpp"
#include "flatten/zero_sets/section_torus.hpp"

namespace planform::flatten {
namespace {

// Notation as in FaceSurface; heights are those over the cutting plane, n its normal (the z axis).

/// Cylinders whose axis makes less than this (rad) with the plane have an ellipse too long to be
/// written as one.
constexpr double nearly_parallel = 1e-5;
/// A cone's section is written as an ellipse up to this eccentricity, and above as the rational
/// quadratic that covers parabolas and hyperbolas too: an ellipse loses digits as it grows long.
constexpr double largest_eccentricity = 0.999;
/// Error of fitted curves relative to the surface.
constexpr double fit_relative = 1e-11;

Vector2 flat(const Vector3& v) { return v.head<2>(); }

/// A slanted plane cuts a cylinder in an ellipse, u the eccentric angle.
Branch cylinder_ellipse(const solid::FaceSurface& s, double height) {
    const double slope = s.z().z();
    // Height of the axis point is h + v Z_z; the radial part adds R (X_z cos u + Y_z sin u).
    Branch branch;
    branch.uv = [&s, slope, height](double u) {
        return Point2(u, -(height + s.radius() * s.radial(u).z()) / slope);
    };
    branch.parameter = [](const Point2& uv) { return uv.x(); };
    branch.distance = [](const Point2&) { return 0.0; };
    branch.project = [&s, slope, height](double from, double to) {
        const Vector3 center = s.origin() - height / slope * s.z();
        const Vector3 a = s.radius() * (s.x() - s.x().z() / slope * s.z());
        const Vector3 b = s.radius() * (s.y() - s.y().z() / slope * s.z());
        return project_conjugate_arc(flat(center), flat(a), flat(b), from, to);
    };
    branch.period = full_turn;
    return branch;
}

/// Nearly straight pieces of the long ellipse of a plane almost along the axis, as functions of v.
std::vector<Branch> long_cylinder_pieces(const solid::FaceSurface& s, double height) {
    const double across = std::hypot(s.x().z(), s.y().z());
    const double middle = std::atan2(s.y().z(), s.x().z());
    std::vector<Branch> result;
    for (const double side : {1.0, -1.0}) {
        const auto angle = [&s, across, middle, height, side](double v) {
            const double cosine = -(height + v * s.z().z()) / (s.radius() * across);
            return middle + side * std::acos(std::clamp(cosine, -1.0, 1.0));
        };
        Branch branch;
        branch.uv = [angle](double v) { return Point2(angle(v), v); };
        branch.parameter = [](const Point2& uv) { return uv.y(); };
        branch.distance = [angle](const Point2& uv) {
            return std::abs(wrapped(uv.x() - angle(uv.y())));
        };
        branch.project = [&s, angle](double from, double to) {
            const auto point = [&](double v) -> Point2 {
                return flat(s.origin() + s.radius() * s.radial(angle(v)) + v * s.z());
            };
            return fit_interpolated(point, from, to, fit_relative * s.radius());
        };
        result.push_back(branch);
    }
    return result;
}

/// The end of such an ellipse, where it is no function of v. With w the angle from the generator at
/// the end, R the radius times the swing of the heights over a turn and e the end's place along the
/// axis, the plane stands 2 R sin^2(w / 2) = |slope| p^2 over the cylinder's side at |v - e| = p^2:
/// smooth in p, and without the loss of digits that a division by the slope costs.
Branch long_ellipse_end(const solid::FaceSurface& s, double height) {
    const double swing = s.radius() * std::hypot(s.x().z(), s.y().z());
    const double slope = s.z().z();
    const double middle_height = height + 0.5 * (s.low().y() + s.high().y()) * slope;
    const double side = middle_height > 0.0 ? -1.0 : 1.0;  // of the generator at the end
    const double generator = std::atan2(side * s.y().z(), side * s.x().z());
    // Heights along that generator: height + side swing + v slope, nought at the end.
    const double end = -(height + side * swing) / slope;
    // Into the ellipse the generator lies beyond the plane.
    const double way = slope * side > 0.0 ? 1.0 : -1.0;
    const double narrowness = std::sqrt(std::abs(slope) / (2.0 * swing));
    const double length = std::max(s.high().y() - s.low().y(), 1e-300);
    const auto uv = [=](double p) {
        const double half = std::asin(std::clamp(narrowness * p, -1.0, 1.0));
        return Point2(generator + 2.0 * half, end + way * p * p);
    };
    Branch branch;
    branch.uv = uv;
    branch.parameter = [=](const Point2& at) {
        const double turn = wrapped(at.x() - generator);
        const double depth = way * (at.y() - end);
        // Where v is clear of the end it is exact, the angle else.
        if (depth < 1e-3 * length) return std::sin(0.5 * turn) / narrowness;
        return std::copysign(std::sqrt(depth), turn);
    };
    branch.distance = [](const Point2&) { return 0.0; };
    branch.project = [&s, uv](double from, double to) {
        const auto point = [&](double p) -> Point2 {
            const Point2 at = uv(p);
            return flat(s.origin() + s.radius() * s.radial(at.x()) + at.y() * s.z());
        };
        return fit_interpolated(point, from, to, fit_relative * s.radius());
    };
    return branch;
}

std::vector<Branch> cylinder_section(const solid::FaceSurface& s, double height) {
    const double slope = s.z().z();
    const double across = std::hypot(s.x().z(), s.y().z());
    if (std::abs(slope) >= nearly_parallel) return {cylinder_ellipse(s, height)};
    const double radius = s.radius() * across;
    const double lowest = std::min(slope * s.low().y(), slope * s.high().y()) + height;
    const double highest = std::max(slope * s.low().y(), slope * s.high().y()) + height;
    if (lowest > radius || highest < -radius) return {};
    // Straight within rounding over the length of the face.
    if (highest - lowest < 1e-13 * s.radius())
        return rulings(s,
                       solve_cosine(s.x().z(), s.y().z(), -0.5 * (lowest + highest) / s.radius()));
    // How deep the plane stands under the cylinder's side: nought at an end of the ellipse. Many
    // lengths of the face away from there the width is a smooth function of v, and the place of the
    // end has no digits left.
    constexpr double far_from_end = 10.0;
    const double depth = radius - std::max(std::abs(lowest), std::abs(highest));
    if (depth < far_from_end * (highest - lowest)) return {long_ellipse_end(s, height)};
    return long_cylinder_pieces(s, height);
}

/// Sections of a cone. With g(u) = sin a radial(u) + cos a Z its points are apex + s g(u), so that
/// the plane at height 0 meets the generator u at s = c / (g . n), c = -(height of the apex):
/// P(u) = apex + c g / (g . n), linear in g and thus in (cos u, sin u, 1) as homogeneous
/// coordinates.
struct ConeSection {
    ConeSection(const solid::FaceSurface& surface, double height_of_origin)
        : s(surface),
          sine(std::sin(s.half_angle())),
          cosine(std::cos(s.half_angle())),
          apex_v(-s.radius() / sine),
          apex(s.origin() + apex_v * cosine * s.z()),
          height(height_of_origin + apex_v * cosine * s.z().z()),
          middle(std::atan2(s.y().z(), s.x().z())),
          swing(sine * std::hypot(s.x().z(), s.y().z())),
          mean(cosine * s.z().z()) {}

    Vector3 generator(double u) const { return sine * s.radial(u) + cosine * s.z(); }
    /// g . n = mean + swing cos(u - middle).
    double rise(double u) const { return mean + swing * std::cos(u - middle); }
    Point2 uv(double u) const { return {u, apex_v - height / rise(u)}; }

    /// With e = swing / mean the angle u - middle is to the eccentric angle E of the ellipse as the
    /// true anomaly of an orbit is to the eccentric one (J. Kepler, Astronomia nova, 1609; any text
    /// on celestial mechanics): tan(E/2) = sqrt((1 - e) / (1 + e)) tan(w/2).
    double eccentric(double u) const {
        const double e = swing / mean;
        const double w = u - middle;
        const double turns = full_turn * std::round(w / full_turn);
        return turns + 2.0 * std::atan2(std::sqrt(1.0 - e) * std::sin(0.5 * (w - turns)),
                                        std::sqrt(1.0 + e) * std::cos(0.5 * (w - turns)));
    }

    std::vector<Curve> ellipse(double from, double to) const {
        // 1 / (1 + e cos w) = (1 - e cos E) / (1 - e^2), cos w / (1 + e cos w) = (cos E - e) / (1 -
        // e^2), sin w / (1 + e cos w) = sin E / sqrt(1 - e^2).
        const double e = swing / mean, square = (1.0 - e) * (1.0 + e);
        const double c = -height / mean;
        const Vector2 x = sine * flat(s.radial(middle)),
                      y = sine * flat(s.radial(middle + 0.5 * pi));
        const Vector2 z = cosine * flat(s.z());
        const Point2 center = flat(apex) + c / square * (z - e * x);
        return project_conjugate_arc(center, c / square * (x - e * z), c / std::sqrt(square) * y,
                                     eccentric(from), eccentric(to));
    }

    /// A piece of the conic in either direction.
    std::vector<Curve> rationals(double from, double to) const {
        if (from < to) return {rational(from, to)};
        return {reversed(rational(to, from))};
    }

    /// A piece of the conic as a rational quadratic spline, split until all weights are well above
    /// zero.
    Spline rational(double from, double to) const {
        Spline spline;
        spline.degree = 2;
        spline.knots.assign(3, from);
        add_end(from, spline);
        add_pieces(from, to, 0, spline);
        spline.knots.push_back(to);
        return spline;
    }

  private:
    void add_end(double u, Spline& spline) const {
        spline.poles.push_back(flat(apex) - height / rise(u) * flat(generator(u)));
        spline.weights.push_back(std::abs(rise(u)));
    }

    void add_pieces(double from, double to, int depth, Spline& spline) const {
        // The middle pole of a circular arc, homogeneous: (cos m, sin m, cos of half the sweep).
        const double m = 0.5 * (from + to), half = 0.5 * (to - from);
        const double weight = mean * std::cos(half) + swing * std::cos(m - middle);
        const double sign = rise(m) > 0.0 ? 1.0 : -1.0;
        const double least = std::min(std::abs(rise(from)), std::abs(rise(to)));
        const bool splits = std::abs(half) > 0.25 * pi || sign * weight < 0.5 * least;
        if (splits && depth < 40) {
            add_pieces(from, m, depth + 1, spline);
            add_pieces(m, to, depth + 1, spline);
            return;
        }
        const Vector3 g = sine * s.radial(m) + cosine * std::cos(half) * s.z();
        spline.poles.push_back(flat(apex) - height / weight * flat(g));
        spline.weights.push_back(std::abs(weight));
        add_end(to, spline);
        spline.knots.insert(spline.knots.end(), 2, to);
    }

  public:
    const solid::FaceSurface& s;
    double sine, cosine;
    double apex_v;
    Point3 apex;
    double height;  ///< of the apex
    double middle;  ///< angle of the steepest generator
    double swing, mean;
};

/// All of a closed conic.
Branch closed_conic(const ConeSection& cone) {
    const bool as_ellipse = std::abs(cone.swing) < largest_eccentricity * std::abs(cone.mean);
    Branch branch;
    branch.uv = [cone](double u) { return cone.uv(u); };
    branch.period = full_turn;
    branch.parameter = [](const Point2& uv) { return uv.x(); };
    branch.distance = [](const Point2&) { return 0.0; };
    branch.project = [cone, as_ellipse](double from, double to) {
        return as_ellipse ? cone.ellipse(from, to) : cone.rationals(from, to);
    };
    return branch;
}

/// The branch of a parabola or hyperbola on one nappe, by the w with s = s_0 cosh w, s_0 the least
/// distance from the apex: a plane that all but meets the apex cuts a cone all but along two
/// generators, on which the angle u says nothing of the place. With g . n = r_0 at s_0, where u is
/// the centre, g . n = r_0 / cosh w = r_0 -+ 2 swing sin^2((u - centre) / 2).
struct OpenConic {
    ConeSection cone;
    double center;
    double least_rise;  ///< r_0

    double least_distance() const { return -cone.height / least_rise; }
    double angle(double w) const {
        const double share = std::abs(least_rise / cone.swing) / std::cosh(w);
        const double sine = std::sinh(0.5 * w) * std::sqrt(share);
        return center + 2.0 * std::asin(std::clamp(sine, -1.0, 1.0));
    }
    double parameter(const Point2& uv) const {
        const double turn = wrapped(uv.x() - center), sine = std::sin(0.5 * turn);
        // 1 - 1 / cosh w: near the vertex the angle tells more, else the distance.
        const double q = 2.0 * sine * sine * std::abs(cone.swing / least_rise);
        const double distance = (uv.y() - cone.apex_v) / least_distance();
        const double w = q < 0.5 ? 2.0 * std::asinh(std::sqrt(0.5 * q / (1.0 - q)))
                                 : std::acosh(std::max(1.0, distance));
        return turn < 0.0 ? -w : w;
    }
};

Branch open_conic(const OpenConic& conic) {
    Branch branch;
    branch.uv = [conic](double w) {
        const double distance = conic.least_distance() * std::cosh(w);
        return Point2(conic.angle(w), conic.cone.apex_v + distance);
    };
    branch.parameter = [conic](const Point2& uv) { return conic.parameter(uv); };
    branch.distance = [conic](const Point2& uv) {
        return (uv.y() - conic.cone.apex_v) * conic.least_distance() > 0.0 ? 0.0 : 1.0;
    };
    branch.project = [conic](double from, double to) {
        return conic.cone.rationals(conic.angle(from), conic.angle(to));
    };
    return branch;
}

std::vector<Branch> cone_section(const solid::FaceSurface& s, double height) {
    const ConeSection cone(s, height);
    if (std::abs(cone.height) <= in_plane)
        return rulings(s, solve_cosine(cone.sine * s.x().z(), cone.sine * s.y().z(), -cone.mean));
    if (std::abs(cone.swing) < std::abs(cone.mean)) return {closed_conic(cone)};
    std::vector<Branch> result;
    for (const double side : {1.0, -1.0}) {
        const double center = side > 0.0 ? cone.middle : cone.middle + pi;
        const double least_rise = cone.mean + side * cone.swing;
        // The other branch of a parabola lies at infinity.
        if (std::abs(least_rise) > 1e-12) result.push_back(open_conic({cone, center, least_rise}));
    }
    return result;
}

std::vector<Branch> sphere_section(const solid::FaceSurface& s, double height) {
    const double square = (s.radius() - height) * (s.radius() + height);
    if (s.radius() - std::abs(height) <= in_plane) return {};  // touches at most
    const Point3 center = s.origin() - height * Vector3::UnitZ();
    return {sphere_circle(s, center, Vector3::UnitZ(), std::sqrt(square))};
}

std::vector<Branch> plane_line(const solid::FaceSurface& s, double height) {
    const Vector3 normal = s.z();
    const Vector3 direction = Vector3::UnitZ().cross(normal).normalized();
    const auto at = [&s](const Point2& uv) -> Point3 {
        return s.origin() + uv.x() * s.x() + uv.y() * s.y();
    };
    // Foot: the point of both planes nearest to the surface's origin.
    const Vector3 downhill = normal.cross(direction);
    const Point3 foot = s.origin() - height / downhill.z() * downhill;
    Branch branch;
    branch.uv = [&s, foot, direction](double t) {
        const Vector3 p = foot + t * direction - s.origin();
        return Point2(p.dot(s.x()), p.dot(s.y()));
    };
    branch.parameter = [at, foot, direction](const Point2& uv) {
        return (at(uv) - foot).dot(direction);
    };
    branch.distance = [](const Point2&) { return 0.0; };
    branch.project = [foot, direction](double from, double to) -> std::vector<Curve> {
        return {Line{flat(foot + from * direction), flat(foot + to * direction)}};
    };
    return {branch};
}

}  // namespace

std::optional<std::vector<Branch>> HeightField::branches() const {
    const solid::FaceSurface& s = surface();
    const double height = s.origin().z() - level();
    switch (s.kind()) {
        case GeomAbs_Plane:
            return plane_line(s, height);
        case GeomAbs_Cylinder:
            return cylinder_section(s, height);
        case GeomAbs_Cone:
            return cone_section(s, height);
        case GeomAbs_Sphere:
            return sphere_section(s, height);
        case GeomAbs_Torus:
            return torus_section(*this);
        case GeomAbs_SurfaceOfRevolution:
            return revolution_section(*this);
        default:
            return std::nullopt;
    }
}

}  // namespace planform::flatten
