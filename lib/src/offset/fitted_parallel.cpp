#include "offset/fitted_parallel.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "offset/words.hpp"
#include "planform/error.hpp"

namespace planform::offset_detail {
namespace {

constexpr int degree = 5;
/// Halvings of a range at most; the error falls to a 64th with each.
constexpr int most_halvings = 24;
/// Pieces of one range at most: near a focal point it takes some tens. What takes more has no
/// direction to speak of, and would take all memory.
constexpr int most_pieces = 4096;
/// The error is measured where it is largest to first order, and held to this share of the bound
/// for the higher orders.
constexpr double share_of_bound = 0.25;
/// Lines and arcs are recognised within this share of the bound.
constexpr double recognised = 1e-3;

/// A range that has been halved more often has a bend as tight as rounding in it: only there may
/// a fit be ahead of the parallel or behind it, by this share of its chord.
constexpr int usual_halvings = 4;
constexpr double most_along = 0.05;

using Poles = std::array<Point2, degree + 1>;

double bernstein(int k, double u) {
    constexpr std::array<double, degree + 1> binomials{1, 5, 10, 10, 5, 1};
    double value = binomials[static_cast<std::size_t>(k)];
    for (int i = 0; i < k; ++i) value *= u;
    for (int i = k; i < degree; ++i) value *= 1.0 - u;
    return value;
}

Point2 value_of(const Poles& poles, double u) {
    Point2 value = Point2::Zero();
    for (int k = 0; k <= degree; ++k) value += bernstein(k, u) * poles[static_cast<std::size_t>(k)];
    return value;
}

/// Both ends with their derivatives, and two places between: then the error is
/// u^2 (1 - u)^2 (u - a) (1 - a - u) times a sixth derivative, with equal extremes in the middle
/// and at 0.17 and 0.83 for a = 0.35.
constexpr std::array<double, 2> inner_places{0.35, 0.65};
constexpr std::array<double, 3> looked_at{0.17, 0.5, 0.83};

class Fit {
  public:
    Fit(const SmoothCurve& curve, double e, double bound) : curve_(curve), e_(e), bound_(bound) {
        spline_.degree = degree;
    }

    /// Without poles if all ranges are one place.
    Spline run(const std::vector<FitRange>& ranges) {
        spline_.knots.assign(degree + 1, ranges.front().from);
        for (const FitRange& range : ranges) {
            if (!(range.from < range.to)) continue;
            pieces_ = 0;
            add(range, most_halvings);
        }
        spline_.knots.push_back(spline_.knots.back());
        return std::move(spline_);
    }

  private:
    Point2 point(const FitRange& range, double u) const {
        const Place place = curve_.at(range.stretch, at(range, u));
        return place.point + e_ * place.normal();
    }

    /// The parallel's derivative, c' (1 + e k).
    Vector2 derivative(const FitRange& range, double u) const {
        const Place place = curve_.at(range.stretch, at(range, u));
        return place.derivative * (1.0 + e_ * place.curvature);
    }

    static double at(const FitRange& range, double u) {
        return u == 1.0 ? range.to : range.from + u * (range.to - range.from);
    }

    void add(const FitRange& range, int depth) {
        if (++pieces_ > 2 * most_pieces) refuse(range);
        const Poles poles = fitted(range);
        double error = 0.0;
        const double chord = (poles.back() - poles.front()).norm();
        const double along = depth < most_halvings - usual_halvings ? most_along * chord : 0.0;
        for (const double u : looked_at)
            error = std::max(error, distance_from_parallel(value_of(poles, u), range, u, along));
        const double middle = at(range, 0.5);
        if (depth > 0 && !(error <= share_of_bound * bound_) && middle > range.from &&
            middle < range.to) {
            add({range.stretch, range.from, middle}, depth - 1);
            add({range.stretch, middle, range.to}, depth - 1);
            return;
        }
        if (spline_.poles.empty()) spline_.poles.push_back(poles.front());
        spline_.poles.insert(spline_.poles.end(), poles.begin() + 1, poles.end());
        spline_.knots.insert(spline_.knots.end(), degree, range.to);
    }

    /// mm from a place of the fit to the parallel, whose place at u is known. Up to `most` mm along
    /// the parallel don't count, but for what the parallel's own bend makes of them: in a bend as
    /// tight as rounding normals are known to few digits, which moves places along their circle
    /// about the bend, and none off it.
    double distance_from_parallel(const Point2& fit, const FitRange& range, double u,
                                  double most) const {
        const Place place = curve_.at(range.stretch, at(range, u));
        const Vector2 off = fit - (place.point + e_ * place.normal());
        const double whole = off.norm(), along = std::abs(off.dot(place.tangent));
        if (along > most) return whole;
        const double factor = std::abs(1.0 + e_ * place.curvature);
        const double bend = std::abs(place.curvature) * along * along;
        return std::min(whole,
                        std::abs(off.dot(place.normal())) + (factor > 0.0 ? bend / factor : whole));
    }

    [[noreturn]] void refuse(const FitRange& range) const {
        throw GeometryError(ErrorKind::law_broken,
                            "the parallel of a curve " +
                                at_place(curve_.at(range.stretch, range.from).point) +
                                " can't be followed: it turns all the time; "
                                "mend the outline there, or move it by a little more or less");
    }

    Poles fitted(const FitRange& range) const {
        const double width = range.to - range.from;
        Poles poles;
        poles[0] = point(range, 0.0);
        poles[5] = point(range, 1.0);
        poles[1] = poles[0] + width / degree * derivative(range, 0.0);
        poles[4] = poles[5] - width / degree * derivative(range, 1.0);
        std::array<Point2, 2> rest;
        for (std::size_t i = 0; i < 2; ++i) {
            const double u = inner_places[i];
            rest[i] = point(range, u);
            for (const int k : {0, 1, 4, 5})
                rest[i] -= bernstein(k, u) * poles[static_cast<std::size_t>(k)];
        }
        const double a = bernstein(2, inner_places[0]), b = bernstein(3, inner_places[0]);
        const double c = bernstein(2, inner_places[1]), d = bernstein(3, inner_places[1]);
        const double determinant = a * d - b * c;
        poles[2] = (d * rest[0] - b * rest[1]) / determinant;
        poles[3] = (a * rest[1] - c * rest[0]) / determinant;
        return poles;
    }

    const SmoothCurve& curve_;
    double e_;
    double bound_;
    int pieces_ = 0;  ///< tried in this range
    Spline spline_;
};

}  // namespace

std::vector<Curve> fitted_parallel(const SmoothCurve& curve, double e,
                                   const std::vector<FitRange>& ranges, double bound) {
    if (ranges.empty()) return {};
    // The curve as a whole is no line or circle, else it had come as one; so its parallel isn't.
    const std::size_t last = curve.stretches() - 1;
    if (ranges.front().stretch == 0 && ranges.front().from == curve.stretch(0).first &&
        ranges.back().stretch == last && ranges.back().to == curve.stretch(last).last)
        return {Fit(curve, e, bound).run(ranges)};
    const Spline fit = Fit(curve, e, bound).run(ranges);
    if (fit.poles.empty()) return {};
    return {canonical(fit, recognised * bound)};
}

}  // namespace planform::offset_detail
