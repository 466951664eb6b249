/// Notation: P, Q the two ends, d their distance, T their tangents (along the outline), k their
/// curvatures (positive turns left). p = angle from T at P to the chord, q = angle from the chord
/// to T at Q, both positive on a left turn.
///
/// With a curvature that changes linearly from k_P to k_Q, to first order in the turn,
///   p = d (2 k_P + k_Q) / 6,   q = d (k_P + 2 k_Q) / 6,
/// (twice integrated; for k_P = k_Q = k these are the half angle k d / 2 of a circle's chord).

#include "drawing/blending.hpp"

#include <algorithm>
#include <cmath>

namespace planform::drawing {
namespace {

/// How much of the turn may remain unexplained: a tenth, which leaves a tenth of the bow of the gap
/// at most (our own choice; ends that have nothing to do with each other are off by all of it).
constexpr double unexplained_share = 0.1;
/// Bows lower than this (mm) are straight.
constexpr double least_bow = 1e-7;
/// Sharper turns within a gap are corners, not curves that go on.
constexpr double largest_turn = 0.5 * pi;

struct EndOfCurve {
    Point2 place;
    Vector2 tangent;
    double curvature;
};

std::optional<EndOfCurve> end_at(const Curve& curve, double t, const Point2& place) {
    const Vector2 first = derivative_at(curve, t);
    const double speed = first.norm();
    if (!(speed > 0.0)) return std::nullopt;
    const double curvature = cross(first, second_derivative_at(curve, t)) / (speed * speed * speed);
    if (!std::isfinite(curvature)) return std::nullopt;
    return EndOfCurve{place, first / speed, curvature};
}

double angle_between(const Vector2& from, const Vector2& to) {
    return std::atan2(cross(from, to), from.dot(to));
}

Vector2 left_of(const Vector2& v) { return {-v.y(), v.x()}; }

/// A gap as its two ends show it.
class EndsOfGap {
  public:
    EndsOfGap(const EndOfCurve& p, const EndOfCurve& q)
        : p_(p),
          q_(q),
          distance_((q.place - p.place).norm()),
          angle_p_(angle_between(p.tangent, q.place - p.place)),
          angle_q_(angle_between(q.place - p.place, q.tangent)) {}

    std::optional<Curve> piece() const {
        const double turn = std::abs(angle_p_) + std::abs(angle_q_);
        const bool goes_on = turn <= largest_turn && distance_ * turn / 16.0 > least_bow;
        if (goes_on) {
            const double allowed = unexplained_share * turn;
            if (unexplained_by_both() <= allowed) return with_both_curvatures();
            const double by_p = std::abs(2.0 * angle_p_ - half_turn(p_) - angle_q_);
            const double by_q = std::abs(2.0 * angle_q_ - half_turn(q_) - angle_p_);
            if (std::min(by_p, by_q) <= allowed && angle_p_ * angle_q_ > 0.0)
                if (const auto conic = by_p <= by_q ? conic_of(p_, angle_p_, angle_q_)
                                                    : conic_of(q_, angle_q_, angle_p_))
                    return conic;
        }
        return arc_into_corner();
    }

  private:
    /// Half of what an arc with an end's curvature turns over the gap.
    double half_turn(const EndOfCurve& end) const { return 0.5 * distance_ * end.curvature; }

    double unexplained_by_both() const {
        const double a = half_turn(p_), b = half_turn(q_);
        return std::max(std::abs(angle_p_ - (2.0 * a + b) / 3.0),
                        std::abs(angle_q_ - (a + 2.0 * b) / 3.0));
    }

    /// Polynomial of degree 5 by place, tangent and curvature at both ends, the parameter close to
    /// the length of arc. Derivatives of a Bezier curve at its ends: L. Piegl, W. Tiller, "The
    /// NURBS Book", equations 1.9 and 1.10.
    Curve with_both_curvatures() const {
        const double half = 0.5 * (angle_p_ + angle_q_);
        const double size = std::abs(half) < 1e-4 ? distance_ : distance_ * half / std::sin(half);
        const double step = size / 5.0, bend = size * size / 20.0;
        const Point2 p1 = p_.place + step * p_.tangent;
        const Point2 q1 = q_.place - step * q_.tangent;
        const Point2 p2 =
            p_.place + 2.0 * step * p_.tangent + bend * p_.curvature * left_of(p_.tangent);
        const Point2 q2 =
            q_.place - 2.0 * step * q_.tangent + bend * q_.curvature * left_of(q_.tangent);
        return Spline{
            5, {0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1}, {p_.place, p1, p2, q2, q1, q_.place}, {}};
    }

    /// The conic with both tangents and the curvature of one end; `here` and `there` are the angles
    /// of that end and of the other. Curvature at the end of a conic with weights 1, w, 1:
    /// h / (2 w^2 a^2), a the distance to the middle pole, h that of the other end from the tangent
    /// (G. Farin, "Curves and Surfaces for CAGD", 5th ed., section 12.7, for degree 2).
    std::optional<Curve> conic_of(const EndOfCurve& end, double here, double there) const {
        const double a = distance_ * std::sin(there) / std::sin(here + there);
        const double h = distance_ * std::abs(std::sin(here));
        const double square = h / (2.0 * a * a * std::abs(end.curvature));
        if (!std::isfinite(square) || !(square > 0.0)) return std::nullopt;
        const double from_p = distance_ * std::sin(angle_q_) / std::sin(angle_p_ + angle_q_);
        const Spline conic{2,
                           {0, 0, 0, 1, 1, 1},
                           {p_.place, p_.place + from_p * p_.tangent, q_.place},
                           {1.0, std::sqrt(square), 1.0}};
        return canonical(conic, 1e-3 * least_bow);
    }

    std::optional<Curve> arc_into_corner() const {
        const double off_p = std::abs(std::sin(angle_p_) - half_turn(p_));
        const double off_q = std::abs(std::sin(angle_q_) - half_turn(q_));
        const auto is_usable = [&](double angle, double off) {
            return std::abs(angle) <= 0.5 * largest_turn &&
                   distance_ * std::abs(angle) / 8.0 > least_bow &&
                   off <= unexplained_share * std::abs(angle);
        };
        const bool by_p = is_usable(angle_p_, off_p), by_q = is_usable(angle_q_, off_q);
        if (by_p && (!by_q || off_p <= off_q)) return arc_by(angle_p_);
        if (by_q) return arc_by(angle_q_);
        return std::nullopt;
    }

    /// The arc over the gap whose tangent and chord make this angle.
    Curve arc_by(double angle) const {
        const double radius = 0.5 * distance_ / std::abs(std::sin(angle));
        const Point2 middle = 0.5 * (p_.place + q_.place);
        const Vector2 along = (q_.place - p_.place) / distance_;
        const double away = std::copysign(radius * std::cos(angle), angle);
        const Point2 center = middle + away * left_of(along);
        const Vector2 first = p_.place - center;
        return Arc{center, radius, std::atan2(first.y(), first.x()), 2.0 * angle};
    }

    EndOfCurve p_;
    EndOfCurve q_;
    double distance_;
    double angle_p_;
    double angle_q_;
};

}  // namespace

std::optional<Curve> blended(const Curve& before, const Curve& after) {
    const auto p = end_at(before, domain(before).last, end_point(before));
    const auto q = end_at(after, domain(after).first, start_point(after));
    if (!p || !q || p->place == q->place) return std::nullopt;
    return EndsOfGap(*p, *q).piece();
}

}  // namespace planform::drawing
