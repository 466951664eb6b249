/// Transversal crossings of two curves.

#include <algorithm>
#include <cmath>
#include <limits>

#include "curve/spline.hpp"
#include "planform/curve.hpp"

namespace planform {
namespace {

/// Below this sine of the angle between them two curves are tangent: the crossing is then known to
/// no better than the square root of the rounding, and the caller has a vertex there already.
constexpr double least_sine = 1e-6;

struct Jet1 {
    Point2 point;
    Vector2 first;
};

Jet1 evaluate(const Curve& curve, double t) {
    if (const Spline* spline = std::get_if<Spline>(&curve)) {
        const detail::Jet jet = detail::evaluate(*spline, t, 1);
        return {jet.point, jet.first};
    }
    return {point_at(curve, t), derivative_at(curve, t)};
}

/// Largest coordinate that goes into the curve's points: its rounding is that of the result.
double magnitude(const Curve& curve, const Point2& point) {
    const double position = point.cwiseAbs().maxCoeff();
    if (const Arc* arc = std::get_if<Arc>(&curve))
        return std::max(position, arc->center.cwiseAbs().maxCoeff() + arc->radius);
    if (const EllipticalArc* arc = std::get_if<EllipticalArc>(&curve))
        return std::max(position, arc->center.cwiseAbs().maxCoeff() + arc->major.norm());
    if (const Line* line = std::get_if<Line>(&curve))
        return std::max(
            {position, line->start.cwiseAbs().maxCoeff(), line->end.cwiseAbs().maxCoeff()});
    double largest = position;
    for (const Point2& pole : std::get<Spline>(curve).poles)
        largest = std::max(largest, pole.cwiseAbs().maxCoeff());
    return largest;
}

/// Where the parameter of a curve may go.
class ParameterRange {
  public:
    ParameterRange(const Curve& curve, double slack)
        : clamped_(std::holds_alternative<Spline>(curve)), domain_(domain(curve)), slack_(slack) {}

    double size() const { return domain_.last - domain_.first; }
    double limited(double t) const {
        return clamped_ ? std::clamp(t, domain_.first, domain_.last) : t;
    }
    bool accepts(double t) const {
        const double margin = slack_ * size();
        return t >= domain_.first - margin && t <= domain_.last + margin;
    }

  private:
    bool clamped_;
    Interval domain_;
    double slack_;
};

/// A point that both curves have, taken from the simpler of them.
Point2 common_point(const Curve& first, const Curve& second, const Jet1& on_first,
                    const Jet1& on_second) {
    return second.index() < first.index() ? on_second.point : on_first.point;
}

}  // namespace

std::optional<Crossing> refine_crossing(const Curve& first, double t, const Curve& second, double u,
                                        double slack) {
    const ParameterRange range_t(first, slack);
    const ParameterRange range_u(second, slack);
    t = range_t.limited(t);
    u = range_u.limited(u);
    // Newton's method for first(t) - second(u) = 0: t' dt - u' du = second - first, by Cramer's
    // rule. A step is at most half a domain, so that a poor guess does not fly off round a full
    // circle.
    constexpr int most_iterations = 40;
    double smallest_residual = std::numeric_limits<double>::infinity();
    for (int iteration = 0; iteration < most_iterations; ++iteration) {
        const Jet1 a = evaluate(first, t);
        const Jet1 b = evaluate(second, u);
        const Vector2 gap = b.point - a.point;
        const double determinant = cross(a.first, b.first);
        const double speeds = a.first.norm() * b.first.norm();
        const bool tangent = !(std::abs(determinant) > least_sine * speeds);
        const double scale = std::max({magnitude(first, a.point), magnitude(second, b.point),
                                       std::numeric_limits<double>::min()});
        const double residual = gap.norm();
        // Rounding of the evaluation is some units in the last place of the coordinates; going on
        // while the residual still falls wins the last of them.
        const bool at_rounding = residual <= 1e-14 * scale;
        const bool settled =
            residual <= 2e-16 * scale || (at_rounding && residual >= 0.5 * smallest_residual);
        if (settled || (at_rounding && tangent)) {
            if (tangent || !range_t.accepts(t) || !range_u.accepts(u)) return std::nullopt;
            return Crossing{t, u, common_point(first, second, a, b)};
        }
        if (tangent) return std::nullopt;
        smallest_residual = std::min(smallest_residual, residual);
        const double half_t = 0.5 * range_t.size();
        const double half_u = 0.5 * range_u.size();
        t = range_t.limited(t + std::clamp(cross(gap, b.first) / determinant, -half_t, half_t));
        u = range_u.limited(u + std::clamp(cross(gap, a.first) / determinant, -half_u, half_u));
    }
    return std::nullopt;
}

}  // namespace planform
