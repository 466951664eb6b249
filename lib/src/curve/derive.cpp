/// Curves made from a curve: reversed, trimmed, transformed, with other ends.

#include <algorithm>
#include <cmath>
#include <string>

#include "curve/overloaded.hpp"
#include "curve/spline.hpp"
#include "planform/curve.hpp"
#include "planform/error.hpp"

namespace planform {
namespace {

using detail::Overloaded;

/// Below this ratio of the axes an ellipse is a segment, above one minus it a circle.
constexpr double axis_resolution = 1e-12;
/// Overshoot in the parametric angle that a collapsed arc may have beyond its turning point; it
/// shifts the end by half its square, 5e-15 of the length.
constexpr double turning_slack = 1e-7;
/// Distance, relative to the domain, below which a trim parameter and a knot are the same.
constexpr double knot_resolution = 1e-12;

Spline reversed_spline(const Spline& spline) {
    detail::require_consistent(spline);
    Spline result = spline;
    std::reverse(result.poles.begin(), result.poles.end());
    std::reverse(result.weights.begin(), result.weights.end());
    const double first = spline.knots.front();
    const double last = spline.knots.back();
    const std::size_t count = spline.knots.size();
    for (std::size_t i = 0; i < count; ++i) {
        const double mirrored = spline.knots[count - 1 - i];
        // Same domain; the ends are not put through the arithmetic.
        result.knots[i] = mirrored == last    ? first
                          : mirrored == first ? last
                                              : first + (last - mirrored);
    }
    return result;
}

/// The nearest knot within the resolution of t, or t itself.
double snapped_to_knot(const Spline& spline, double t) {
    const double reach = knot_resolution * (spline.knots.back() - spline.knots.front());
    const auto above = std::lower_bound(spline.knots.begin(), spline.knots.end(), t);
    double nearest = above == spline.knots.end() ? spline.knots.back() : *above;
    if (above != spline.knots.begin() && t - *(above - 1) < std::abs(nearest - t))
        nearest = *(above - 1);
    return std::abs(nearest - t) <= reach ? nearest : t;
}

/// The poles and knots that decide about a spline between two parameters, as they are.
Spline spans_about(const Spline& spline, double from, double to) {
    const auto p = static_cast<std::ptrdiff_t>(spline.degree);
    const auto count = static_cast<std::ptrdiff_t>(spline.poles.size());
    // A span more at each end, so that knots at the ends have all their neighbours.
    const auto low = std::lower_bound(spline.knots.begin(), spline.knots.end(), from),
               high = std::upper_bound(spline.knots.begin(), spline.knots.end(), to);
    const std::ptrdiff_t first =
        std::clamp(low - spline.knots.begin() - 2 * p - 2, std::ptrdiff_t{0}, count - p - 1);
    const std::ptrdiff_t last =
        std::clamp(high - spline.knots.begin() + p + 1, first + p + 1, count);
    if (last - first > count / 2) return spline;
    Spline part;
    part.degree = spline.degree;
    part.poles.assign(spline.poles.begin() + first, spline.poles.begin() + last);
    part.knots.assign(spline.knots.begin() + first, spline.knots.begin() + last + p + 1);
    if (!spline.weights.empty())
        part.weights.assign(spline.weights.begin() + first, spline.weights.begin() + last);
    return part;
}

/// Exact restriction: knots are inserted at both ends until they have multiplicity p, and what lies
/// outside is dropped (The NURBS Book, section 5.2 on splitting by knot insertion).
Spline trimmed_spline(const Spline& whole, double from, double to) {
    const int p = whole.degree;
    double cut_from = snapped_to_knot(whole, from);
    double cut_to = snapped_to_knot(whole, to);
    if (cut_from >= cut_to) {
        cut_from = from;
        cut_to = to;
    }
    const Spline spline = spans_about(whole, cut_from, cut_to);
    const auto with_full_knot = [p](const Spline& source, double t) {
        const int present = detail::knot_multiplicity(source, t);
        return present >= p ? source : detail::insert_knot(source, t, p - present);
    };
    const Spline refined = with_full_knot(with_full_knot(spline, cut_from), cut_to);
    const auto& knots = refined.knots;
    const auto after_from = std::upper_bound(knots.begin(), knots.end(), cut_from);
    const auto at_to = std::lower_bound(knots.begin(), knots.end(), cut_to);
    // Pole i belongs to knots i + 1 ... i + p: the first kept pole has all of them at `from`.
    const auto first_pole = (after_from - knots.begin()) - p - 1;
    const auto last_pole = (at_to - knots.begin()) - 1;
    Spline result;
    result.degree = p;
    result.knots.assign(p + 1, from);
    result.knots.insert(result.knots.end(), after_from, at_to);
    result.knots.insert(result.knots.end(), p + 1, to);
    result.poles.assign(refined.poles.begin() + first_pole, refined.poles.begin() + last_pole + 1);
    if (!refined.weights.empty())
        result.weights.assign(refined.weights.begin() + first_pole,
                              refined.weights.begin() + last_pole + 1);
    return result;
}

/// An ellipse flattened to a segment: center + axis cos a.
Line collapsed_arc(const Point2& center, const Vector2& axis, double start_angle, double sweep) {
    const double low = std::min(start_angle, start_angle + sweep) + turning_slack;
    const double high = std::max(start_angle, start_angle + sweep) - turning_slack;
    if (std::floor(low / pi) != std::floor(high / pi) && low < high)
        throw GeometryError(ErrorKind::invalid_argument,
                            "the transform squashes an arc to a segment that is run through to and "
                            "fro: split it at its turning points first");
    return {center + std::cos(start_angle) * axis, center + std::cos(start_angle + sweep) * axis};
}

/// The curve center + p cos a + q sin a, a from start_angle over sweep: p and q are conjugate
/// half-diameters. With psi the angle of the longest radius, tan 2 psi = 2 p.q / (p.p - q.q): the
/// singular value decomposition of the 2x2 matrix [p q] in closed form (Rytz's construction).
Curve arc_on_conjugate_diameters(const Point2& center, const Vector2& p, const Vector2& q,
                                 double start_angle, double sweep, bool keep_ellipse) {
    const double psi = 0.5 * std::atan2(2.0 * p.dot(q), p.squaredNorm() - q.squaredNorm());
    const Vector2 major = std::cos(psi) * p + std::sin(psi) * q;
    if (!(major.squaredNorm() > 0.0))
        throw GeometryError(ErrorKind::invalid_argument,
                            "the transform squashes an arc to a point");
    const double area = cross(p, q);
    const double ratio = std::min(1.0, std::abs(area) / major.squaredNorm());
    if (!(ratio > axis_resolution)) return collapsed_arc(center, major, start_angle - psi, sweep);
    const double turn = area < 0.0 ? -1.0 : 1.0;
    if (ratio >= 1.0 - axis_resolution && !keep_ellipse) {
        // The image of angle 0 has the direction of p; no psi, which is arbitrary for a circle.
        const double base = std::atan2(p.y(), p.x());
        return Arc{center, std::sqrt(std::abs(area)), base + turn * start_angle, turn * sweep};
    }
    return EllipticalArc{center, major, ratio, turn * (start_angle - psi), turn * sweep};
}

Curve transformed_arc(const Arc& arc, const Transform2& transform) {
    const Eigen::Matrix2d linear = transform.linear();
    return arc_on_conjugate_diameters(transform * arc.center, arc.radius * linear.col(0),
                                      arc.radius * linear.col(1), arc.start_angle, arc.sweep,
                                      false);
}

Curve transformed_ellipse(const EllipticalArc& arc, const Transform2& transform) {
    const Vector2 minor = arc.ratio * Vector2(-arc.major.y(), arc.major.x());
    return arc_on_conjugate_diameters(transform * arc.center, transform.linear() * arc.major,
                                      transform.linear() * minor, arc.start_angle, arc.sweep,
                                      arc.ratio >= 1.0 - axis_resolution);
}

Spline transformed_spline(const Spline& spline, const Transform2& transform) {
    Spline result = spline;
    for (Point2& pole : result.poles) pole = transform * pole;
    return result;
}

}  // namespace

Curve reversed(const Curve& curve) {
    return std::visit(
        Overloaded{[](const Line& line) -> Curve {
                       return Line{line.end, line.start};
                   },
                   [](const Arc& arc) -> Curve {
                       return Arc{arc.center, arc.radius, arc.start_angle + arc.sweep, -arc.sweep};
                   },
                   [](const EllipticalArc& arc) -> Curve {
                       return EllipticalArc{arc.center, arc.major, arc.ratio,
                                            arc.start_angle + arc.sweep, -arc.sweep};
                   },
                   [](const Spline& spline) -> Curve { return reversed_spline(spline); }},
        curve);
}

Curve trimmed(const Curve& curve, double from, double to) {
    const Interval range = domain(curve);
    if (std::holds_alternative<Spline>(curve)) {
        from = std::max(from, range.first);
        to = std::min(to, range.last);
    }
    if (!(from < to))
        throw GeometryError(ErrorKind::invalid_argument,
                            "trimmed: the first parameter (" + std::to_string(from) +
                                ") is not below the second (" + std::to_string(to) + ")");
    if (from == range.first && to == range.last) return curve;
    return std::visit(
        Overloaded{[&](const Line& line) -> Curve {
                       return Line{point_at(line, from), point_at(line, to)};
                   },
                   [&](const Arc& arc) -> Curve {
                       return Arc{arc.center, arc.radius, arc.start_angle + from * arc.sweep,
                                  (to - from) * arc.sweep};
                   },
                   [&](const EllipticalArc& arc) -> Curve {
                       return EllipticalArc{arc.center, arc.major, arc.ratio,
                                            arc.start_angle + from * arc.sweep,
                                            (to - from) * arc.sweep};
                   },
                   [&](const Spline& spline) -> Curve { return trimmed_spline(spline, from, to); }},
        curve);
}

Curve transformed(const Curve& curve, const Transform2& transform) {
    return std::visit(
        Overloaded{
            [&](const Line& line) -> Curve {
                return Line{transform * line.start, transform * line.end};
            },
            [&](const Arc& arc) { return transformed_arc(arc, transform); },
            [&](const EllipticalArc& arc) { return transformed_ellipse(arc, transform); },
            [&](const Spline& spline) -> Curve { return transformed_spline(spline, transform); }},
        curve);
}

Curve with_ends(const Curve& curve, const Point2& start, const Point2& end) {
    return std::visit(Overloaded{[&](const Line&) -> Curve {
                                     return Line{start, end};
                                 },
                                 [&](const Spline& spline) -> Curve {
                                     Spline result = spline;
                                     result.poles.front() = start;
                                     result.poles.back() = end;
                                     return result;
                                 },
                                 [](const auto& arc) -> Curve { return arc; }},
                      curve);
}

}  // namespace planform
