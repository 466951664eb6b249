#include "drawing/mending.hpp"

#include <algorithm>
#include <cmath>

#include "curve/angles.hpp"
#include "curve/overloaded.hpp"
#include "curve/spline.hpp"
#include "drawing/blending.hpp"

namespace planform::drawing {
namespace {

using detail::Overloaded;

/// How far a point may lie beside a curve (mm) to lie on it: the rounding of decimals in files, and
/// a small part of the gap.
double on_curve_within(double gap) { return std::min(1e-6, 0.01 * gap); }

/// Lengthens an arc's sweep by an angle, to a whole turn at most.
double longer_sweep(double sweep, double angle) {
    return std::copysign(std::min(std::abs(sweep) + angle, full_turn), sweep);
}

/// The polynomials of the last span, taken beyond its end. Control points of the stretch from 0 to
/// 1 + beyond follow by de Casteljau's algorithm at a parameter above 1, those of the stretch from
/// 1 on by splitting that again. Source: L. Piegl, W. Tiller, "The NURBS Book", section 5.3 (knot
/// insertion) and 1.4 (de Casteljau); both hold for any parameter, as polynomials do.
Spline lengthened_spline(const Spline& spline, double distance) {
    int last_span = spline.degree;
    detail::for_each_span(spline, [&](int span) { last_span = span; });
    const detail::BezierPiece piece = detail::bezier_piece(spline, last_span);
    const double speed = derivative_at(spline, spline.knots.back()).norm();
    const double span = piece.last - piece.first;
    if (!(speed > 0.0)) return spline;
    // No further than the span is long: polynomials soon run away.
    const double beyond = std::min(distance / (speed * span), 1.0);
    detail::BezierPiece longer, rest, first, onward;
    piece.split(1.0 + beyond, longer, rest);
    longer.split(1.0 / (1.0 + beyond), first, onward);
    Spline result = spline;
    const double end = spline.knots.back() + beyond * span;
    result.knots.pop_back();
    result.knots.insert(result.knots.end(), static_cast<std::size_t>(spline.degree) + 1, end);
    for (int i = 1; i <= spline.degree; ++i) {
        const detail::Homogeneous& control = onward.control[static_cast<std::size_t>(i)];
        if (piece.rational) {
            if (!(control.z() > 0.0)) return spline;
            result.weights.push_back(control.z());
        }
        result.poles.push_back(onward.control_point(i));
    }
    return result;
}

Curve lengthened_start(const Curve& curve, double distance) {
    return reversed(lengthened(reversed(curve), distance));
}

/// The curve cut (or lengthened) to end at a parameter of its lengthened form.
std::optional<Curve> ending_at(const Curve& longer, double t) {
    const Interval range = domain(longer);
    if (!(t > range.first)) return std::nullopt;
    return t >= range.last ? longer : trimmed(longer, range.first, t);
}

std::optional<Curve> starting_at(const Curve& longer, double t) {
    const Interval range = domain(longer);
    if (!(t < range.last)) return std::nullopt;
    return t <= range.first ? longer : trimmed(longer, t, range.last);
}

/// The point in which two lines or circles touch, if they do within `near` mm.
std::optional<Point2> tangent_point(const Curve& a, const Curve& b, double near) {
    const auto *arc_a = std::get_if<Arc>(&a), *arc_b = std::get_if<Arc>(&b);
    const auto *line_a = std::get_if<Line>(&a), *line_b = std::get_if<Line>(&b);
    if (arc_a && arc_b) {
        const Vector2 between = arc_b->center - arc_a->center;
        const double distance = between.norm();
        if (!(distance > near)) return std::nullopt;
        const bool outside = std::abs(distance - arc_a->radius - arc_b->radius) <= near;
        if (!outside && std::abs(distance - std::abs(arc_a->radius - arc_b->radius)) > near)
            return std::nullopt;
        const double side = !outside && arc_a->radius < arc_b->radius ? -1.0 : 1.0;
        return arc_a->center + side * arc_a->radius / distance * between;
    }
    const Line* line = line_a ? line_a : line_b;
    const Arc* arc = arc_a ? arc_a : arc_b;
    if (!line || !arc) return std::nullopt;
    const Vector2 unit = (line->end - line->start).normalized();
    const Point2 foot = line->start + unit.dot(arc->center - line->start) * unit;
    if (std::abs((foot - arc->center).norm() - arc->radius) > near) return std::nullopt;
    return foot;
}

/// One joint and what might be done with it.
class Joint {
  public:
    Joint(const Curve& before, const Curve& after)
        : before_(before),
          after_(after),
          end_(end_point(before)),
          start_(start_point(after)),
          gap_((start_ - end_).norm()),
          near_(on_curve_within(gap_)),
          longer_before_(lengthened(before, 2.0 * gap_)),
          longer_after_(lengthened_start(after, 2.0 * gap_)) {}

    MendedJoint mended() const {
        if (const auto joint = through(start_)) return *joint;
        if (const auto joint = through(end_)) return *joint;
        const auto crossing =
            refine_crossing(longer_before_, nearest_parameter(longer_before_, end_), longer_after_,
                            nearest_parameter(longer_after_, start_), 0.0);
        if (crossing)
            if (const auto joint = through(crossing->point)) return *joint;
        if (const auto touch = tangent_point(before_, after_, near_))
            if (const auto joint = through(*touch)) return *joint;
        return {before_, after_, piece_between(before_, after_)};
    }

  private:
    /// Both curves to one point, if it lies on both and no further from their ends than the gap.
    std::optional<MendedJoint> through(const Point2& point) const {
        const double reach = gap_ * (1.0 + 1e-9);
        if ((point - end_).norm() > reach || (point - start_).norm() > reach) return std::nullopt;
        const double t = nearest_parameter(longer_before_, point);
        const double u = nearest_parameter(longer_after_, point);
        if ((point_at(longer_before_, t) - point).norm() > near_ ||
            (point_at(longer_after_, u) - point).norm() > near_)
            return std::nullopt;
        const auto before = point == end_ ? before_ : ending_at(longer_before_, t);
        const auto after = point == start_ ? after_ : starting_at(longer_after_, u);
        if (!before || !after) return std::nullopt;
        return MendedJoint{with_ends(*before, start_point(*before), point),
                           with_ends(*after, point, end_point(*after)), std::nullopt};
    }

    const Curve& before_;
    const Curve& after_;
    Point2 end_;
    Point2 start_;
    double gap_;
    double near_;
    Curve longer_before_;
    Curve longer_after_;
};

}  // namespace

Curve lengthened(const Curve& curve, double distance) {
    return std::visit(
        Overloaded{
            [&](const Line& line) -> Curve {
                const Vector2 along = line.end - line.start;
                const double size = along.norm();
                if (size == 0.0) return line;
                return Line{line.start, line.end + distance / size * along};
            },
            [&](const Arc& arc) -> Curve {
                return Arc{arc.center, arc.radius, arc.start_angle,
                           longer_sweep(arc.sweep, distance / arc.radius)};
            },
            [&](const EllipticalArc& arc) -> Curve {
                const double speed = derivative_at(arc, 1.0).norm() / std::abs(arc.sweep);
                EllipticalArc longer = arc;
                longer.sweep = longer_sweep(arc.sweep, distance / speed);
                return longer;
            },
            [&](const Spline& spline) -> Curve { return lengthened_spline(spline, distance); }},
        curve);
}

MendedJoint mend_joint(const Curve& before, const Curve& after) {
    return Joint(before, after).mended();
}

Curve piece_between(const Curve& before, const Curve& after) {
    if (const auto curve = blended(before, after)) return *curve;
    return Line{end_point(before), start_point(after)};
}

std::optional<Curve> closed_on_itself(const Curve& curve) {
    const Point2 start = start_point(curve);
    const double gap = (end_point(curve) - start).norm();
    const auto is_nearly_whole = [&](double sweep) {
        return std::abs(sweep) > pi && std::abs(sweep) < full_turn;
    };
    if (const auto* arc = std::get_if<Arc>(&curve); arc && is_nearly_whole(arc->sweep))
        return Arc{arc->center, arc->radius, arc->start_angle,
                   std::copysign(full_turn, arc->sweep)};
    if (const auto* arc = std::get_if<EllipticalArc>(&curve); arc && is_nearly_whole(arc->sweep))
        return EllipticalArc{arc->center, arc->major, arc->ratio, arc->start_angle,
                             std::copysign(full_turn, arc->sweep)};
    if (!std::holds_alternative<Spline>(curve)) return std::nullopt;
    const Curve longer = lengthened(curve, 2.0 * gap);
    // Only what was added is asked: the nearest point of all is the start itself.
    const Interval range = domain(longer);
    const double own_end = domain(curve).last;
    if (!(own_end < range.last)) return std::nullopt;
    const Curve added = trimmed(longer, own_end, range.last);
    const double t = nearest_parameter(added, start);
    if ((point_at(added, t) - start).norm() > on_curve_within(gap) || !(t > own_end))
        return std::nullopt;
    return with_ends(t >= range.last ? longer : trimmed(longer, range.first, t), start, start);
}

}  // namespace planform::drawing
