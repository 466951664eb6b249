#include <algorithm>
#include <cmath>

#include "flatten/collect/plane_moves.hpp"
#include "flatten/curves/projected_curve.hpp"
#include "flatten/kinds/branch_parts.hpp"
#include "flatten/kinds/surface_kind.hpp"

namespace planform::flatten {
namespace {

// Notation as in FaceSurface; heights are those over the cutting plane, n its normal (the z axis).

/// A cone's section is written as an ellipse up to this eccentricity, and above as the rational
/// quadratic that covers parabolas and hyperbolas too: an ellipse loses digits as it grows long.
constexpr double largest_eccentricity = 0.999;

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

/// The normal at u is cos a radial(u) - sin a Z; it is turned beyond the apex.
class Cone final : public SurfaceKind {
  public:
    double facing(const solid::FaceSurface& s, int outward, const Point2& uv) const override {
        const double radial = s.radial(uv.x()).z();
        return outward * s.handed() * nappe(s, uv.y()) *
               (std::cos(s.half_angle()) * radial - std::sin(s.half_angle()) * s.z().z());
    }
    FieldValue facing_with_gradient(const solid::FaceSurface& s, int outward,
                                    const Point2& uv) const override {
        const double turned = s.radial(uv.x() + 0.5 * pi).z();
        return {facing(s, outward, uv),
                {outward * s.handed() * nappe(s, uv.y()) * std::cos(s.half_angle()) * turned, 0.0}};
    }
    std::optional<Range> facing_range(const solid::FaceSurface& s, int outward,
                                      const Box2& box) const override {
        if (!(radius_at(s, box.min().y()) * radius_at(s, box.max().y()) > 0.0)) return std::nullopt;
        const double axial = -std::sin(s.half_angle()) * s.z().z();
        const Range radial = wave(s.x().z(), s.y().z(), box.min().x(), box.max().x());
        return outward * s.handed() * nappe(s, box.min().y()) *
               (std::cos(s.half_angle()) * radial + Range{axial, axial});
    }
    std::optional<std::vector<Branch>> folds(const solid::FaceSurface& s) const override {
        return rulings(s, solve_cosine(s.x().z(), s.y().z(), std::tan(s.half_angle()) * s.z().z()));
    }
    std::optional<std::vector<Branch>> section(const solid::FaceSurface& s,
                                               double level) const override {
        return cone_section(s, s.origin().z() - level);
    }
    bool touches_along_line(const solid::FaceSurface& s, double level,
                            double depth) const override {
        return runs_along_ruling(s, level, depth);
    }

  private:
    static double radius_at(const solid::FaceSurface& s, double v) {
        return s.radius() + v * std::sin(s.half_angle());
    }
    /// -1 beyond the apex.
    static double nappe(const solid::FaceSurface& s, double v) {
        return radius_at(s, v) < 0.0 ? -1.0 : 1.0;
    }
};

}  // namespace

const SurfaceKind& cone_kind() {
    static const Cone kind;
    return kind;
}

}  // namespace planform::flatten
