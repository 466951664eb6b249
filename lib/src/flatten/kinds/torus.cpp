#include <algorithm>
#include <cmath>

#include "flatten/curves/projected_curve.hpp"
#include "flatten/curves/smooth_fit.hpp"
#include "flatten/kinds/branch_parts.hpp"
#include "flatten/kinds/surface_kind.hpp"
#include "flatten/kinds/torus_section.hpp"
#include "flatten/kinds/tube_facing.hpp"
#include "solid/inset_curve.hpp"

namespace planform::flatten {
namespace {

// Folds of a torus. A point with outward tube normal n has position O + R e + r n, e the direction
// of n along the centre circle's plane, or O - R e + r n on the inner half. The normals across the
// view (the z axis of datum coordinates) are n(w) = cos w X + sin w Y, so that the outline is the
// parallel curve at distance r of the projected centre circle (an ellipse): exact in w.

/// Unit vector e(w) times length, with derivatives, for q(w) = part of n(w) in the torus' plane.
struct RadialJet {
    Vector3 e, first, second;
};

RadialJet radial_jet(const solid::FaceSurface& s, double w) {
    const auto in_plane = [&](const Vector3& n) -> Vector3 { return n - n.dot(s.z()) * s.z(); };
    const Vector3 q = in_plane({std::cos(w), std::sin(w), 0.0});
    const Vector3 dq = in_plane({-std::sin(w), std::cos(w), 0.0});
    const Vector3 ddq = -q;
    // Derivatives of q / |q|.
    const double m = q.norm();
    const double dm = q.dot(dq) / m;
    const double ddm = (dq.squaredNorm() + q.dot(ddq) - dm * dm) / m;
    return {
        q / m, dq / m - q * dm / (m * m),
        ddq / m - 2.0 * dq * dm / (m * m) - q * ddm / (m * m) + 2.0 * q * dm * dm / (m * m * m)};
}

/// The fold on the outer (side = 1) or inner (side = -1) half of the torus, seen from a slant.
Branch slanted_torus_fold(const solid::FaceSurface& s, double side) {
    const double size = s.radius() + s.tube_radius();
    Branch branch;
    branch.uv = [&s, side](double w) {
        const Vector3 n(std::cos(w), std::sin(w), 0.0);
        const Vector3 e = side * radial_jet(s, w).e;
        const double u = std::atan2(e.dot(s.y()), e.dot(s.x()));
        const double v = std::atan2(n.dot(s.z()), n.dot(e));
        return Point2(u, v);
    };
    branch.parameter = [&s](const Point2& uv) {
        const Vector3 n = std::cos(uv.y()) * s.radial(uv.x()) + std::sin(uv.y()) * s.z();
        return std::atan2(n.y(), n.x());
    };
    branch.distance = [side](const Point2& uv) {
        return side * std::cos(uv.y()) > 0.0 ? 0.0 : 1.0;
    };
    branch.project = [&s, side, size](double from, double to) -> std::vector<Curve> {
        const auto function = [&](double w) -> Jet2 {
            const RadialJet e = radial_jet(s, w);
            const Vector2 n(std::cos(w), std::sin(w)), dn(-std::sin(w), std::cos(w));
            const double R = side * s.radius(), r = s.tube_radius();
            return {s.origin().head<2>() + R * e.e.head<2>() + r * n,
                    R * e.first.head<2>() + r * dn, R * e.second.head<2>() - r * n};
        };
        const Spline spline =
            fit_quintic(function, std::min(from, to), std::max(from, to), fit_relative * size);
        return {from < to ? Curve(spline) : reversed(spline)};
    };
    branch.period = full_turn;
    return branch;
}

/// Seen along the axis: the outer and the inner equator.
Branch equator(const solid::FaceSurface& s, double side) {
    const double radius = s.radius() + side * s.tube_radius();
    Branch branch;
    branch.uv = [side](double u) { return Point2(u, side > 0.0 ? 0.0 : pi); };
    branch.parameter = [](const Point2& uv) { return uv.x(); };
    branch.distance = [side](const Point2& uv) {
        return side * std::cos(uv.y()) > 0.0 ? 0.0 : 1.0;
    };
    branch.project = [&s, radius](double from, double to) {
        return project_conjugate_arc(s.origin().head<2>(), radius * s.x().head<2>(),
                                     radius * s.y().head<2>(), from, to);
    };
    branch.period = full_turn;
    return branch;
}

/// Half of a tube's circle u = const, for a torus seen across its axis.
Branch meridian_half(const solid::FaceSurface& s, double u, double v_low) {
    Branch branch;
    branch.uv = [u](double v) { return Point2(u, v); };
    branch.parameter = [v_low](const Point2& uv) { return turn_from(v_low - 0.5 * pi, uv.y()); };
    branch.distance = [&s, u, v_low](const Point2& uv) {
        const double off = s.radius() * std::abs(wrapped(uv.x() - u));
        const double beyond = std::abs(wrapped(uv.y() - v_low - 0.5 * pi)) - 0.5 * pi;
        return std::hypot(off, s.tube_radius() * std::max(beyond, 0.0));
    };
    branch.project = [&s, u](double from, double to) {
        const Point3 center = s.origin() + s.radius() * s.radial(u);
        return project_conjugate_arc(center.head<2>(), s.tube_radius() * s.radial(u).head<2>(),
                                     s.tube_radius() * s.z().head<2>(), from, to);
    };
    branch.ends = Interval{v_low, v_low + pi};
    return branch;
}

/// Half of the top (v = pi/2) or bottom circle, seen edge-on, for a torus seen across its axis.
Branch rim_half(const solid::FaceSurface& s, double v, double u_low) {
    Branch branch;
    branch.uv = [v](double u) { return Point2(u, v); };
    branch.parameter = [u_low](const Point2& uv) { return turn_from(u_low - 0.5 * pi, uv.x()); };
    branch.distance = [&s, v, u_low](const Point2& uv) {
        const double off = s.tube_radius() * std::abs(wrapped(uv.y() - v));
        const double beyond = std::abs(wrapped(uv.x() - u_low - 0.5 * pi)) - 0.5 * pi;
        return std::hypot(off, s.radius() * std::max(beyond, 0.0));
    };
    branch.project = [&s, v](double from, double to) {
        const Point3 center = s.origin() + s.tube_radius() * std::sin(v) * s.z();
        return project_conjugate_arc(center.head<2>(), s.radius() * s.x().head<2>(),
                                     s.radius() * s.y().head<2>(), from, to);
    };
    branch.ends = Interval{u_low, u_low + pi};
    return branch;
}

/// True if an angle is one end of the range of a face, as nearly as such angles are given in files:
/// what lies nearer to the boundary than signs are taken beside it is not seen from there.
bool is_at_limit(double angle, double low, double high) {
    const double limit = solid::InsetCurve::inset * (high - low);
    return std::abs(wrapped(angle - low)) < limit || std::abs(wrapped(angle - high)) < limit;
}

std::vector<Branch> torus_folds(const solid::FaceSurface& s) {
    const double along = std::abs(s.z().z());
    const double across = std::hypot(s.x().z(), s.y().z());
    if (across == 0.0) {
        std::vector<Branch> equators = {equator(s, 1.0), equator(s, -1.0)};
        equators[0].is_at_limit = is_at_limit(0.0, s.low().y(), s.high().y());
        equators[1].is_at_limit = is_at_limit(pi, s.low().y(), s.high().y());
        return equators;
    }
    if (along > 0.0) return {slanted_torus_fold(s, 1.0), slanted_torus_fold(s, -1.0)};
    // Across the axis: two tube circles and the two rims, which cross in four points.
    const double u = std::atan2(s.y().z(), s.x().z()) + 0.5 * pi;
    // What runs along the face's own limit is an edge, not a fold inside.
    std::vector<Branch> result;
    for (const double meridian : {u, u + pi}) {
        if (is_at_limit(meridian, s.low().x(), s.high().x())) continue;
        for (const double v_low : {-0.5 * pi, 0.5 * pi})
            result.push_back(meridian_half(s, meridian, v_low));
    }
    for (const double v : {-0.5 * pi, 0.5 * pi}) {
        if (is_at_limit(v, s.low().y(), s.high().y())) continue;
        for (const double u_low : {u, u + pi}) result.push_back(rim_half(s, v, u_low));
    }
    return result;
}

class Torus final : public SurfaceKind {
  public:
    double facing(const solid::FaceSurface& s, int outward, const Point2& uv) const override {
        return outward * s.handed() * turn(s, uv.y()) * tube_facing(s, uv);
    }
    FieldValue facing_with_gradient(const solid::FaceSurface& s, int outward,
                                    const Point2& uv) const override {
        return {facing(s, outward, uv),
                outward * s.handed() * turn(s, uv.y()) * tube_facing_gradient(s, uv)};
    }
    std::optional<Range> facing_range(const solid::FaceSurface& s, int outward,
                                      const Box2& box) const override {
        if (s.radius() <= s.tube_radius()) return std::nullopt;
        return outward * s.handed() * tube_facing_range(s, box);
    }
    std::optional<std::vector<Branch>> folds(const solid::FaceSurface& s) const override {
        return torus_folds(s);
    }
    std::optional<std::vector<Branch>> section(const solid::FaceSurface& s,
                                               double level) const override {
        return torus_section(s, level);
    }

  private:
    /// A spindle torus turns its normal where R + r cos v < 0.
    static double turn(const solid::FaceSurface& s, double v) {
        return s.radius() + s.tube_radius() * std::cos(v) < 0.0 ? -1.0 : 1.0;
    }
};

}  // namespace

const SurfaceKind& torus_kind() {
    static const Torus kind;
    return kind;
}

}  // namespace planform::flatten
