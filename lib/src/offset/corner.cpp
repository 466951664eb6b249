#include "offset/corner.hpp"

#include <cmath>

namespace planform::offset_detail {
namespace {

/// Directions that differ from a half turn by less (rad) are told by their curvatures.
constexpr double half_turn_noise = 1e-7;

}  // namespace

double Corner::turn() const {
    const Vector2 &a = before.tangent, &b = after.tangent;
    const double turn = std::atan2(cross(a, b), a.dot(b));
    if (pi - std::abs(turn) > half_turn_noise) return turn;
    // Both curves leave the corner in one direction; seen along the one before, the one after lies
    // to the left by -(k_before + k_after) s^2 / 2 at the way s from the corner.
    return before.curvature + after.curvature > 0.0 ? -pi : pi;
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

}  // namespace planform::offset_detail
