#include "offset/cut_corner.hpp"

#include <cmath>
#include <vector>

#include "offset/separation.hpp"

namespace planform::offset_detail {
namespace {

/// The crossing may be this many times as far from the corner as that of the tangents.
constexpr double furthest = 2.0;
/// mm that the curves of the loop that is cut off keep off each other.
constexpr double clearance = 1e-7;

}  // namespace

std::optional<std::pair<Curve, Curve>> cut_at_crossing(const Corner& corner, double distance,
                                                       const Curve& before, const Curve& after) {
    const Vector2 n = corner.before.normal(), m = corner.after.normal();
    const double sum = 1.0 + n.dot(m);
    if (!(sum > 1e-3)) return std::nullopt;
    const Vector2 out = distance / sum * (n + m);
    const Interval range_a = domain(before), range_b = domain(after);
    const double middle_a = 0.5 * (range_a.first + range_a.last);
    const double middle_b = 0.5 * (range_b.first + range_b.last);
    const double speed_a = derivative_at(before, range_a.last).norm();
    const double speed_b = derivative_at(after, range_b.first).norm();
    if (!(speed_a > 0.0 && speed_b > 0.0)) return std::nullopt;
    const double t = range_a.last + out.dot(corner.before.tangent) / speed_a;
    const double u = range_b.first + out.dot(corner.after.tangent) / speed_b;
    if (t <= middle_a || u >= middle_b) return std::nullopt;
    const std::optional<Crossing> found = refine_crossing(before, t, after, u);
    if (!found || found->t <= middle_a || found->u >= middle_b || found->t >= range_a.last ||
        found->u <= range_b.first || (found->point - corner.point).norm() > furthest * out.norm())
        return std::nullopt;
    const Point2& x = found->point;
    const Curve tail = trimmed(before, found->t, range_a.last);
    const Curve head = trimmed(after, range_b.first, found->u);
    const Point2 a = end_point(tail), b = start_point(head);
    const std::vector<Curve> off{tail, Line{a, corner.point}, Line{corner.point, b}, head};
    double area = 0.0;
    for (const Curve& curve : off) area += swept_area(curve, x);
    if (area * distance <= 0.0) return std::nullopt;
    LoopField field(clearance);
    field.add_loop(off, true);
    field.tell_apart();
    if (!field.is_simple(0)) return std::nullopt;
    return std::pair(with_ends(trimmed(before, range_a.first, found->t), start_point(before), x),
                     with_ends(trimmed(after, found->u, range_b.last), x, end_point(after)));
}

}  // namespace planform::offset_detail
