#include "flatten/kinds/torus_section.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <gp_Torus.hxx>
#include <optional>

#include "flatten/collect/plane_moves.hpp"
#include "flatten/curves/interpolated_fit.hpp"
#include "flatten/curves/projected_curve.hpp"
#include "flatten/kinds/branch_parts.hpp"
#include "model/kernel/points.hpp"

namespace planform::flatten {
namespace {

// Notation: centre O, axes X, Y, Z as in FaceSurface, n the plane's normal (the z axis), h the
// height of O over the plane, rho = |n - (n.Z) Z|, zeta = n.Z, f the angle of n about the axis. The
// height of the point (u, v) is N + D cos(u - f) with
//   N(v) = h + r zeta sin v,   D(v) = rho (R + r cos v),
// so that the plane meets the tube circles v with (D - N)(D + N) >= 0, in two points
//   u = f +- arccos(-N / D).
// Both factors are c + r cos(v -+ b) with tan b = zeta / rho: the ends of these ranges of v are
// known.

/// Two ends of ranges farther apart than this (rad) are never one place where the plane touches.
constexpr double widest_touch = 0.01;
/// ... nor where the torus leaves the plane by more than this (mm) between them: a little more than
/// what PlaneCut lets an edge of a grazing face leave it.
constexpr double widest_depth = 2.5 * in_plane;

/// c + r cos(v - shift), with its zeros.
struct Factor {
    double c, r, shift;
    std::optional<double> half;  ///< zeros at shift +- half; half in [0, pi]

    Factor(double constant, double radius, double angle) : c(constant), r(radius), shift(angle) {
        const double cosine = -c / r;
        // A touch that rounding took away counts.
        if (std::abs(cosine) <= 1.0 + 1e-14) half = std::acos(std::clamp(cosine, -1.0, 1.0));
    }
    double operator()(double v) const { return c + r * std::cos(v - shift); }
};

/// sin(x) / x.
double sinc(double x) { return std::abs(x) < 1e-8 ? 1.0 : std::sin(x) / x; }

struct CutTorus {
    Point3 origin;
    Vector3 x, y, z;
    double R, r;
    double height, rho, zeta, f;

    CutTorus(const solid::FaceSurface& s, double level) : R(s.radius()), r(s.tube_radius()) {
        // The axes of the file: FaceSurface straightens those of nearly upright tori.
        const gp_Ax3 frame = s.adaptor().Torus().Transformed(s.placement()).Position();
        origin = s.origin();
        x = model::from_kernel(frame.XDirection());
        y = model::from_kernel(frame.YDirection());
        z = model::from_kernel(frame.Direction());
        height = origin.z() - level;
        rho = std::hypot(x.z(), y.z());
        zeta = z.z();
        f = std::atan2(y.z(), x.z());
    }
    Vector3 radial(double u) const { return std::cos(u) * x + std::sin(u) * y; }
    Point2 point(double u, double v) const {
        const Point3 p = origin + (R + r * std::cos(v)) * radial(u) + r * std::sin(v) * z;
        return p.head<2>();
    }
    double size() const { return R + r; }
    double N(double v) const { return height + r * zeta * std::sin(v); }
    double D(double v) const { return rho * (R + r * std::cos(v)); }
    Factor difference() const { return {rho * R - height, r, -std::atan2(zeta, rho)}; }
    Factor sum() const { return {rho * R + height, r, std::atan2(zeta, rho)}; }
};

/// A loop of the section over a range [v0, v1] of v that ends where both points u of a tube circle
/// meet: v = m - d cos(angle), u - f = arccos(-N / D) for angles up to pi and its negative beyond.
struct RangeLoop {
    CutTorus torus;
    double m, d;
    double snap;  ///< zeros this near to an end are the end
    Factor difference, sum;

    RangeLoop(const CutTorus& t, double v0, double v1, double snap_to_end)
        : torus(t),
          m(0.5 * (v0 + v1)),
          d(0.5 * (v1 - v0)),
          snap(snap_to_end),
          difference(t.difference()),
          sum(t.sum()) {}

    double v(double angle) const { return m - d * std::cos(angle); }

    /// The root of a product of two sines that vanish at the ends has to be taken without loss of
    /// digits there: (v - v0) = 2 d sin^2(angle / 2), (v1 - v) = 2 d cos^2(angle / 2).
    double value(const Factor& factor, double angle) const {
        if (!factor.half) return factor(v(angle));
        // c + r cos(w) = 2 r sin((half + w) / 2) sin((half - w) / 2).
        const double first = from_zero(factor.shift - *factor.half, angle);
        const double second = from_zero(factor.shift + *factor.half, angle);
        return -2.0 * factor.r * first * second;
    }

    /// sin((v - zero) / 2) but for its sign over whole turns, which cancels over both zeros.
    double from_zero(double zero, double angle) const {
        const double half_sine = std::sin(0.5 * angle), half_cosine = std::cos(0.5 * angle);
        const double start = m - d, end = m + d;
        const double turns_to_start = std::round((start - zero) / full_turn);
        const double turns_to_end = std::round((end - zero) / full_turn);
        const auto odd = [](double turns) { return std::abs(std::remainder(turns, 2.0)) > 0.5; };
        if (std::abs(start - zero - turns_to_start * full_turn) < snap) {
            const double half_way = d * half_sine * half_sine;
            return (odd(turns_to_start) ? -1.0 : 1.0) * half_way * sinc(half_way);
        }
        if (std::abs(end - zero - turns_to_end * full_turn) < snap) {
            const double half_way = d * half_cosine * half_cosine;
            return (odd(turns_to_end) ? 1.0 : -1.0) * half_way * sinc(half_way);
        }
        return std::sin(0.5 * (v(angle) - zero));
    }

    double u(double angle) const {
        const double product = value(difference, angle) * value(sum, angle);
        const double root = std::sqrt(std::max(0.0, product));
        const double side = std::sin(angle) < 0.0 ? -1.0 : 1.0;
        const double sign = torus.D(v(angle)) < 0.0 ? -1.0 : 1.0;
        return torus.f + std::atan2(side * root, -sign * torus.N(v(angle)));
    }

    Point2 point(double angle) const { return torus.point(u(angle), v(angle)); }

    /// The angle of a point by u, v; near the ends of the range by u, where v tells little.
    double angle_of(const Point2& uv) const {
        const double v_here = turn_from(m - pi, uv.y());
        const double cosine = std::clamp((m - v_here) / d, -1.0, 1.0);
        const double side = std::sin(uv.x() - torus.f) < 0.0 ? -1.0 : 1.0;
        double angle = side * std::acos(cosine);
        for (int i = 0; i < 3 && std::abs(cosine) > 0.99; ++i) {
            constexpr double step = 1e-5;
            const double slope = wrapped(u(angle + step) - u(angle - step)) / (2.0 * step);
            if (std::abs(slope) < 1e-6) break;
            angle += std::clamp(wrapped(uv.x() - u(angle)) / slope, -0.1, 0.1);
        }
        return angle;
    }

    double outside(const Point2& uv) const {
        const double beyond = std::abs(wrapped(uv.y() - m)) - d;
        return std::max(0.0, beyond);
    }
};

Branch closed_loop(const RangeLoop& loop) {
    Branch branch;
    branch.uv = [loop](double angle) { return Point2(loop.u(angle), loop.v(angle)); };
    branch.parameter = [loop](const Point2& uv) { return loop.angle_of(uv); };
    branch.distance = [loop](const Point2& uv) { return loop.outside(uv); };
    branch.project = [loop](double from, double to) {
        return fit_interpolated([&](double angle) { return loop.point(angle); }, from, to,
                                fit_relative * loop.torus.size());
    };
    branch.period = full_turn;
    return branch;
}

/// Half of such a loop, for a range at whose ends the plane touches: four branches meet there.
Branch half_loop(const RangeLoop& loop, double side) {
    Branch branch = closed_loop(loop);
    branch.period.reset();
    branch.parameter = [loop, side](const Point2& uv) {
        const double angle = loop.angle_of(uv);
        return side > 0.0 ? turn_from(-0.5 * pi, angle) : turn_from(0.5 * pi, angle);
    };
    branch.distance = [loop, side](const Point2& uv) {
        return loop.outside(uv) + std::max(0.0, -side * std::sin(uv.x() - loop.torus.f));
    };
    branch.ends = side > 0.0 ? Interval{0.0, pi} : Interval{pi, full_turn};
    return branch;
}

/// Where the plane meets every tube circle: two closed curves u(v).
Branch all_round(const CutTorus& torus, double side) {
    const auto u = [torus, side](double v) {
        const double n = torus.N(v), d = torus.D(v);
        return torus.f + side * std::atan2(std::sqrt(std::max(0.0, (d - n) * (d + n))), -n);
    };
    Branch branch;
    branch.uv = [u](double v) { return Point2(u(v), v); };
    branch.parameter = [](const Point2& uv) { return uv.y(); };
    branch.distance = [torus, side](const Point2& uv) {
        return side * std::sin(uv.x() - torus.f) < 0.0 ? 1.0 : 0.0;
    };
    branch.project = [torus, u](double from, double to) {
        return fit_interpolated([&](double v) { return torus.point(u(v), v); }, from, to,
                                fit_relative * torus.size());
    };
    branch.period = full_turn;
    return branch;
}

/// A plane square to the axis cuts two circles, v = asin and v = pi - asin.
std::vector<Branch> parallels(const CutTorus& torus) {
    const double sine = -torus.height / (torus.r * torus.zeta);
    std::vector<Branch> result;
    if (!(std::abs(sine) < 1.0)) return result;
    for (const double side : {1.0, -1.0}) {
        const double v = side > 0.0 ? std::asin(sine) : pi - std::asin(sine);
        const double radius = torus.R + torus.r * std::cos(v);
        Branch branch;
        branch.uv = [v](double u) { return Point2(u, v); };
        branch.parameter = [](const Point2& uv) { return uv.x(); };
        branch.distance = [side](const Point2& uv) {
            return side * std::cos(uv.y()) > 0.0 ? 0.0 : 1.0;
        };
        branch.project = [torus, radius](double from, double to) {
            return project_conjugate_arc(torus.origin.head<2>(), radius * torus.x.head<2>(),
                                         radius * torus.y.head<2>(), from, to);
        };
        branch.period = full_turn;
        result.push_back(branch);
    }
    return result;
}

/// A plane through the axis cuts two tube circles u = const.
std::vector<Branch> meridians(const CutTorus& torus) {
    std::vector<Branch> result;
    for (const double u : {torus.f - 0.5 * pi, torus.f + 0.5 * pi}) {
        Branch branch;
        branch.uv = [u](double v) { return Point2(u, v); };
        branch.parameter = [](const Point2& uv) { return uv.y(); };
        branch.distance = [u](const Point2& uv) { return std::abs(wrapped(uv.x() - u)); };
        branch.project = [torus, u](double from, double to) {
            const Point3 center = torus.origin + torus.R * torus.radial(u);
            return project_conjugate_arc(center.head<2>(), torus.r * torus.radial(u).head<2>(),
                                         torus.r * torus.z.head<2>(), from, to);
        };
        branch.period = full_turn;
        result.push_back(branch);
    }
    return result;
}

/// An end of a range of v; `snap` > 0 where the plane touches the torus there.
struct RangeEnd {
    double v;
    double snap = 0.0;
};

/// Ends of the ranges, ascending within a turn. Where the gap between two ranges is in the plane
/// within `in_plane`, the plane touches: both ends become one place, so that the branches that meet
/// there do.
std::vector<RangeEnd> range_ends(const CutTorus& torus) {
    std::vector<RangeEnd> ends;
    for (const Factor& factor : {torus.difference(), torus.sum()}) {
        if (!factor.half) continue;
        for (const double zero : {factor.shift - *factor.half, factor.shift + *factor.half})
            ends.push_back({turn_from(0.0, zero)});
    }
    std::sort(ends.begin(), ends.end(),
              [](const RangeEnd& a, const RangeEnd& b) { return a.v < b.v; });
    for (std::size_t i = 0; i < ends.size(); ++i) {
        RangeEnd &here = ends[i], &next = ends[(i + 1) % ends.size()];
        const double gap = wrapped(next.v - here.v);
        if (&here == &next || !(gap >= 0.0 && gap < widest_touch)) continue;
        const double middle = here.v + 0.5 * gap;
        const double depth = std::abs(torus.N(middle)) - std::abs(torus.D(middle));
        if (depth < -1e-14 * torus.size() || depth > widest_depth) continue;
        here.v = middle;
        next.v = middle + (next.v < here.v ? -full_turn : 0.0);
        here.snap = next.snap = gap + 1e-7;
    }
    return ends;
}

std::vector<Branch> quartic(const CutTorus& torus) {
    const std::vector<RangeEnd> ends = range_ends(torus);
    if (ends.empty()) {
        if (torus.difference()(0.0) * torus.sum()(0.0) < 0.0) return {};
        return {all_round(torus, 1.0), all_round(torus, -1.0)};
    }
    std::vector<Branch> result;
    for (std::size_t i = 0; i < ends.size(); ++i) {
        const RangeEnd& start = ends[i];
        RangeEnd end = ends[(i + 1) % ends.size()];
        if (i + 1 == ends.size()) end.v += full_turn;
        if (end.v - start.v < 1e-12) continue;
        const double middle = 0.5 * (start.v + end.v);
        if (torus.difference()(middle) * torus.sum()(middle) <= 0.0) continue;
        const RangeLoop loop(torus, start.v, end.v, std::max({start.snap, end.snap, 1e-12}));
        if (start.snap == 0.0 && end.snap == 0.0) {
            result.push_back(closed_loop(loop));
            continue;
        }
        result.push_back(half_loop(loop, 1.0));
        result.push_back(half_loop(loop, -1.0));
    }
    return result;
}

}  // namespace

std::optional<std::vector<Branch>> torus_section(const solid::FaceSurface& surface, double level) {
    const CutTorus torus(surface, level);
    // Touches at most, as PlaneCut takes it: its edges are not cut there.
    if (torus.rho * torus.R + torus.r - std::abs(torus.height) <= in_plane)
        return std::vector<Branch>();
    if (torus.rho < perpendicular) return parallels(torus);
    if (std::abs(torus.zeta) < perpendicular && std::abs(torus.height) < 1e-9 * torus.R)
        return meridians(torus);
    // Where the tube passes through the axis, one tube circle meets the plane more often.
    if (torus.R <= torus.r) return std::nullopt;
    return quartic(torus);
}

}  // namespace planform::flatten
