#include <algorithm>
#include <cmath>
#include <sstream>

#include "curve/angles.hpp"
#include "planform/error.hpp"
#include "planform/profile.hpp"
#include "profile/curve_bounds.hpp"
#include "profile/validity.hpp"

namespace planform {
namespace {

using detail::bounds_of;

/// Gaps up to this, relative to the contour's size, are rounding: a spline beside them is moved
/// onto its neighbour. Wider gaps (up to Contour::closure) are left as the caller gave them.
constexpr double rounding_gap = 1e-9;
/// The same for a line, which is off all along if it is led aside at an end.
constexpr double rounding_gap_of_lines = 1e-11;
/// How closely, relative to the radius, curves must share centre, radius and full turn to be one
/// circle.
constexpr double same_circle = 1e-9;

void require_valid(const std::vector<Curve>& curves, const std::vector<Provenance>& provenance) {
    if (curves.empty())
        throw GeometryError(ErrorKind::invalid_argument, "a contour needs at least one curve");
    if (!provenance.empty() && provenance.size() != curves.size())
        throw GeometryError(ErrorKind::invalid_argument,
                            "a contour of " + std::to_string(curves.size()) + " curves has " +
                                std::to_string(provenance.size()) +
                                " provenance entries: none or one a curve is needed");
    for (std::size_t i = 0; i < curves.size(); ++i) {
        try {
            check_curve(curves[i]);
        } catch (const GeometryError& error) {
            throw GeometryError(
                error.kind(), "curve " + std::to_string(i + 1) + " of a contour: " + error.what());
        }
    }
}

[[noreturn]] void throw_not_closed(const Point2& end, const Point2& start, std::size_t index,
                                   std::size_t next) {
    std::ostringstream message;
    message.precision(9);
    message << "the contour is not closed: curve " << index + 1 << " ends at (" << end.x() << ", "
            << end.y() << ") mm, curve " << next + 1 << " starts at (" << start.x() << ", "
            << start.y() << ") mm, a gap of " << (start - end).norm() << " mm";
    throw GeometryError(ErrorKind::contour_not_closed, message.str());
}

/// May an end be moved by a gap, which is given relative to the contour's size?
bool may_move(const Curve& curve, double gap) {
    if (std::holds_alternative<Line>(curve)) return gap <= rounding_gap_of_lines;
    return std::holds_alternative<Spline>(curve) && gap <= rounding_gap;
}

/// Makes the end of `before` and the start of `after` the same point, if one of them may move.
void join(Curve& before, Curve& after, double gap) {
    const Point2 end = end_point(before);
    const Point2 start = start_point(after);
    if (&before == &after) {
        if (may_move(before, gap)) before = with_ends(before, start, start);
    } else if (may_move(after, gap)) {
        after = with_ends(after, end, end_point(after));
    } else if (may_move(before, gap)) {
        before = with_ends(before, start_point(before), start);
    }
}

/// Checks all joints and closes those whose gap is rounding.
void close_joints(std::vector<Curve>& curves) {
    const double size = bounds_of(curves).diagonal().norm();
    if (!(size > 0.0))
        throw GeometryError(ErrorKind::invalid_argument, "all curves of a contour are one point");
    for (std::size_t i = 0; i < curves.size(); ++i) {
        const std::size_t next = (i + 1) % curves.size();
        const Point2 end = end_point(curves[i]);
        const Point2 start = start_point(curves[next]);
        const double gap = (start - end).norm();
        if (!(gap <= Contour::closure * size)) throw_not_closed(end, start, i, next);
        if (gap > 0.0) join(curves[i], curves[next], gap / size);
    }
}

/// Green's theorem, about a point of the contour, so that a far-off position costs no digits.
double enclosed_area(const std::vector<Curve>& curves) {
    const Point2 pivot = start_point(curves.front());
    double area = 0.0;
    for (std::size_t i = 0; i < curves.size(); ++i) {
        const Point2 end = end_point(curves[i]);
        const Point2 next = start_point(curves[(i + 1) % curves.size()]);
        area += swept_area(curves[i], pivot) + 0.5 * cross(end - pivot, next - end);
    }
    return area;
}

}  // namespace

Contour::Contour(std::vector<Curve> curves, std::vector<Provenance> provenance, Validate validate)
    : curves_(std::move(curves)), provenance_(std::move(provenance)) {
    require_valid(curves_, provenance_);
    close_joints(curves_);
    area_ = enclosed_area(curves_);
    if (validate == Validate::yes) detail::require_simple(*this);
}

double Contour::length() const {
    double sum = 0.0;
    for (const Curve& curve : curves_) sum += planform::length(curve);
    return sum;
}

Box2 Contour::bounds() const { return bounds_of(curves_); }

bool Contour::is_circle() const {
    std::vector<Arc> arcs;
    for (const Curve& curve : curves_) {
        if (std::holds_alternative<Line>(curve)) return false;
        const double tolerance = same_circle * planform::bounds(curve).diagonal().norm();
        const Curve simplest =
            std::holds_alternative<Arc>(curve) ? curve : canonical(curve, tolerance);
        const Arc* arc = std::get_if<Arc>(&simplest);
        if (!arc) return false;
        arcs.push_back(*arc);
    }
    double turn = 0.0;
    const double reach = same_circle * arcs.front().radius;
    for (const Arc& arc : arcs) {
        if ((arc.center - arcs.front().center).norm() > reach) return false;
        if (std::abs(arc.radius - arcs.front().radius) > reach) return false;
        if (arc.sweep * arcs.front().sweep < 0.0) return false;
        turn += std::abs(arc.sweep);
    }
    return std::abs(turn - full_turn) <= full_turn * same_circle;
}

std::vector<Point2> Contour::points(double tolerance) const {
    std::vector<Point2> vertices;
    for (const Curve& curve : curves_) {
        const std::vector<Point2> piece = planform::points(curve, tolerance);
        vertices.insert(vertices.end(), piece.begin(), piece.end() - 1);
        // A contour of two curves that are nearly straight still bounds an area.
        if (curves_.size() == 2 && piece.size() == 2 && !std::holds_alternative<Line>(curve)) {
            const Interval range = domain(curve);
            vertices.push_back(point_at(curve, 0.5 * (range.first + range.last)));
        }
    }
    return vertices;
}

Contour Contour::reversed() const {
    std::vector<Curve> curves;
    curves.reserve(curves_.size());
    for (auto curve = curves_.rbegin(); curve != curves_.rend(); ++curve)
        curves.push_back(planform::reversed(*curve));
    return Contour(std::move(curves), {provenance_.rbegin(), provenance_.rend()}, Validate::no);
}

Contour Contour::transformed(const Transform2& transform) const {
    std::vector<Curve> curves;
    curves.reserve(curves_.size());
    for (const Curve& curve : curves_) curves.push_back(planform::transformed(curve, transform));
    const Contour image(std::move(curves), provenance_, Validate::no);
    return transform.linear().determinant() < 0.0 ? image.reversed() : image;
}

}  // namespace planform
