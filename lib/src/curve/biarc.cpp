#include "curve/biarc.hpp"

#include <cmath>

#include "curve/angles.hpp"

namespace planform::detail {
namespace {

/// Half the turn below which a piece is written as a line: the tangents of neighbours then differ
/// by less than 1e-9 rad, and no arc has a radius so large that its centre loses the digits of its
/// ends.
constexpr double straight_half_turn = 4e-10;
constexpr double largest_turn = 0.75 * pi;

Vector2 left_of(const Vector2& vector) { return {-vector.y(), vector.x()}; }

/// Mirror image of a unit tangent at the chord: the tangent at an arc's other end.
Vector2 mirrored(const Vector2& tangent, const Vector2& chord) {
    const Vector2 unit = chord.normalized();
    return (2.0 * tangent.dot(unit) * unit - tangent).normalized();
}

}  // namespace

double ArcPiece::distance(const Point2& point) const {
    const Vector2 from_start = point - start;
    if (from_start.dot(start_tangent) < 0.0) return from_start.norm();
    const Vector2 from_end = point - end;
    if (from_end.dot(end_tangent) > 0.0) return from_end.norm();
    // | |point - center| - radius | without the centre: numerator and denominator of
    // (|pc|^2 - r^2) / (|pc| + r), divided by r; right for curvature 0 too.
    const Vector2 normal = left_of(start_tangent);
    return std::abs(curvature * from_start.squaredNorm() - 2.0 * from_start.dot(normal)) /
           (1.0 + (normal - curvature * from_start).norm());
}

Curve ArcPiece::curve() const {
    if (std::abs(0.5 * turn) <= straight_half_turn) return Line{start, end};
    const double radius = 1.0 / std::abs(curvature);
    // The mean of the centres seen from both ends halves the rounding at the worse of them.
    const Point2 center = 0.5 * ((start + left_of(start_tangent) / curvature) +
                                 (end + left_of(end_tangent) / curvature));
    const Vector2 outward = turn > 0.0 ? Vector2(-left_of(start_tangent)) : left_of(start_tangent);
    return Arc{center, radius, std::atan2(outward.y(), outward.x()), turn};
}

std::optional<Biarc> make_biarc(const Point2& start, const Vector2& start_tangent,
                                const Point2& end, const Vector2& end_tangent) {
    // Notation: v = end - start, t = T0 + T1, d the length of the tangents to the control points
    // Q0 = start + d T0 and Q1 = end - d T1 with |Q1 - Q0| = 2 d, hence
    // 2 (1 - T0.T1) d^2 + 2 (v.t) d - v.v = 0; the joint is the middle of Q0 Q1.
    // K. M. Bolton, "Biarc curves", CAD 7 (1975); the root is written without cancellation.
    const Vector2 v = end - start;
    const double squared = v.squaredNorm();
    if (!(squared > 0.0)) return std::nullopt;
    const double along = v.dot(start_tangent + end_tangent);
    // 2 (1 - T0.T1) = |T0 - T1|^2, exact for nearly equal tangents.
    const double opening = (start_tangent - end_tangent).squaredNorm();
    const double denominator = along + std::sqrt(along * along + opening * squared);
    if (!(denominator > 1e-12 * std::sqrt(squared))) return std::nullopt;
    const double d = squared / denominator;
    const Point2 joint = 0.5 * (start + end) + 0.5 * d * (start_tangent - end_tangent);

    const auto piece = [](const Point2& from, const Point2& to, const Vector2& tangent,
                          bool tangent_at_start) {
        const Vector2 chord = to - from;
        const Vector2 other = mirrored(tangent, chord);
        const Vector2& first = tangent_at_start ? tangent : other;
        const Vector2& last = tangent_at_start ? other : tangent;
        // The chord halves the turn.
        const double sine = tangent_at_start ? cross(tangent, chord) : cross(chord, tangent);
        const double half_turn = std::atan2(sine, tangent.dot(chord));
        return ArcPiece{from, to, first, last, 2.0 * sine / chord.squaredNorm(), 2.0 * half_turn};
    };
    if ((joint - start).squaredNorm() == 0.0 || (end - joint).squaredNorm() == 0.0)
        return std::nullopt;
    const Biarc biarc{piece(start, joint, start_tangent, true),
                      piece(joint, end, end_tangent, false)};
    for (const ArcPiece& arc : biarc)
        if (std::abs(arc.turn) > largest_turn) return std::nullopt;
    return biarc;
}

void append_merging(std::vector<Curve>& chain, const Curve& next, double resolution) {
    if (!chain.empty()) {
        if (Line* line = std::get_if<Line>(&chain.back())) {
            if (const Line* more = std::get_if<Line>(&next)) {
                const Vector2 chord = more->end - line->start;
                if (std::abs(cross(chord, line->end - line->start)) <= resolution * chord.norm()) {
                    line->end = more->end;
                    return;
                }
            }
        } else if (Arc* arc = std::get_if<Arc>(&chain.back())) {
            const Arc* more = std::get_if<Arc>(&next);
            if (more && arc->sweep * more->sweep > 0.0 &&
                std::abs(arc->sweep + more->sweep) < full_turn &&
                (arc->center - more->center).norm() <= resolution &&
                std::abs(arc->radius - more->radius) <= resolution) {
                arc->sweep += more->sweep;
                return;
            }
        }
    }
    chain.push_back(next);
}

}  // namespace planform::detail
