#include "offset/corner.hpp"

#include <algorithm>
#include <cmath>

namespace planform::offset_detail {
namespace {

/// Where directions differ from a half turn by less (rad), it is told by where the curves lie.
constexpr double half_turn_noise = 1e-3;
/// The curves are looked at this share of the lesser radius away from the corner.
constexpr double aside_per_radius = 1e-3;

}  // namespace

double Corner::turn() const {
    const Vector2 &a = before.tangent, &b = after.tangent;
    const double sine = cross(a, b), turn = std::atan2(sine, a.dot(b));
    if (pi - std::abs(turn) > half_turn_noise) return turn;
    // Both curves leave the corner in one direction; seen along the one before, the one after lies
    // to the left by this at the way s from the corner. Ends may miss each other by a trace.
    const double gap = cross(a, Vector2(after.point - before.point));
    const double bend = before.curvature + after.curvature;
    const double most = std::max(std::abs(before.curvature), std::abs(after.curvature));
    const double s = most > 0.0 ? aside_per_radius / most : 0.0;
    const double left = most > 0.0 ? gap + s * (sine - 0.5 * s * bend) : sine != 0.0 ? sine : gap;
    if (left < 0.0) return turn < 0.0 ? turn : -pi;
    return turn > 0.0 ? turn : pi;
}

bool bands_part(const Corner& corner, double distance, double joint) {
    const double turn = corner.turn();
    return turn * distance > 0.0 && 2.0 * std::abs(distance * std::sin(0.5 * turn)) > joint;
}

std::vector<Curve> join(const Corner& corner, double distance, const CornerStyle& style) {
    const double turn = corner.turn();
    const Point2 from = corner.point + distance * corner.before.normal();
    const Point2 to = corner.point + distance * corner.after.normal();
    if (style.corners == Corners::round) {
        const Vector2 out = from - corner.point;
        return {Arc{corner.point, std::abs(distance), std::atan2(out.y(), out.x()), turn}};
    }
    const double ratio = 1.0 / std::cos(0.5 * turn);
    if (style.corners == Corners::sharp && std::abs(turn) < pi && ratio <= style.limit) {
        const double reach = std::abs(distance * std::tan(0.5 * turn));
        const Point2 tip = from + reach * corner.before.tangent;
        return {Line{from, tip}, Line{tip, to}};
    }
    return {Line{from, to}};
}

bool lead_end(Curve& curve, bool at_end, const Point2& to, double way) {
    if (Line* line = std::get_if<Line>(&curve)) {
        (at_end ? line->end : line->start) = to;
        return true;
    }
    Arc* arc = std::get_if<Arc>(&curve);
    if (!arc) return false;
    const double angle = (arc->sweep < 0.0 ? -way : way) / arc->radius;
    if (!at_end) arc->start_angle += angle;
    arc->sweep += at_end ? angle : -angle;
    return true;
}

}  // namespace planform::offset_detail
