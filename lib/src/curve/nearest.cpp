/// The nearest point of a curve.

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <vector>

#include "curve/angles.hpp"
#include "curve/overloaded.hpp"
#include "curve/spline.hpp"
#include "planform/curve.hpp"

namespace planform {
namespace {

using detail::BezierPiece;
using detail::Overloaded;

/// The best parameter so far.
struct Nearest {
    double parameter = 0.0;
    double squared_distance = std::numeric_limits<double>::infinity();

    void offer(double candidate, double candidate_squared_distance) {
        if (candidate_squared_distance < squared_distance) {
            parameter = candidate;
            squared_distance = candidate_squared_distance;
        }
    }
};

double nearest_on_line(const Line& line, const Point2& target) {
    const Vector2 chord = line.end - line.start;
    const double squared = chord.squaredNorm();
    if (squared == 0.0) return 0.0;
    return std::clamp(chord.dot(target - line.start) / squared, 0.0, 1.0);
}

double nearest_on_arc(const Arc& arc, const Point2& target) {
    const Vector2 outward = target - arc.center;
    const double turn = arc.sweep < 0.0 ? -1.0 : 1.0;
    // Angle from the start in the arc's own direction, in [0, 2 pi).
    double angle = turn * (std::atan2(outward.y(), outward.x()) - arc.start_angle);
    angle -= full_turn * std::floor(angle / full_turn);
    const double sweep = std::abs(arc.sweep);
    if (angle <= sweep) return angle / sweep;
    // In the gap: the end that is the smaller turn away.
    return angle - sweep < full_turn - angle ? 1.0 : 0.0;
}

/// Root of g in a bracket with g(low) <= 0 <= g(high): Newton's method, bisecting when it leaves
/// the bracket. `evaluate(t, g, slope)` sets g and its derivative.
template <class Evaluate>
double bracketed_root(double low, double high, Evaluate&& evaluate) {
    double t = 0.5 * (low + high);
    for (int iteration = 0; iteration < 100; ++iteration) {
        double g = 0.0;
        double slope = 0.0;
        evaluate(t, g, slope);
        if (g == 0.0) return t;
        (g < 0.0 ? low : high) = t;
        double next = slope > 0.0 ? t - g / slope : low - 1.0;
        if (!(next > low && next < high)) next = 0.5 * (low + high);
        if (std::abs(next - t) <= 4e-16 * std::max(std::abs(low), std::abs(high))) return next;
        t = next;
    }
    return t;
}

/// The (at most two) angles at which the distance of a full ellipse from a point is least locally.
///
/// Notation: a >= b semi-axes, (x, y) the point in the axes' frame, mirrored into the first
/// quadrant; half the derivative of the squared distance at the angle s is
///   g(s) = (b^2 - a^2) sin s cos s + a x sin s - b y cos s.
/// g rises through zero once in [0, pi/2]: the nearest point. Inside the evolute there is one more
/// minimum, across the major axis, in [-pi/2, -m] with tan^3 m = b y / (a x), if g(-m) > 0: g(-m) /
/// (sin m cos m) is largest there.
class EllipseMinima {
  public:
    EllipseMinima(double a, double b, const Vector2& point)
        : ax_(a * std::abs(point.x())), by_(b * std::abs(point.y())), cc_((a - b) * (a + b)) {
        const auto slope_of_distance = [this](double s, double& g, double& slope) {
            g = this->g(s);
            slope = -cc_ * std::cos(2.0 * s) + ax_ * std::cos(s) + by_ * std::sin(s);
        };
        const auto unfolded = [&](double angle) {
            return std::atan2(std::copysign(1.0, point.y()) * std::sin(angle),
                              std::copysign(1.0, point.x()) * std::cos(angle));
        };
        angles.push_back(unfolded(bracketed_root(0.0, 0.5 * pi, slope_of_distance)));
        const double middle = -std::atan2(std::cbrt(by_), std::cbrt(ax_));
        if (g(middle) > 0.0)
            angles.push_back(unfolded(bracketed_root(-0.5 * pi, middle, slope_of_distance)));
    }

    std::vector<double> angles;

  private:
    double g(double s) const {
        return -cc_ * std::sin(s) * std::cos(s) + ax_ * std::sin(s) - by_ * std::cos(s);
    }

    double ax_, by_, cc_;
};

double nearest_on_ellipse(const EllipticalArc& arc, const Point2& target) {
    const double semi_major = arc.major.norm();
    const Vector2 along = arc.major / semi_major;
    const Vector2 offset = target - arc.center;
    const Vector2 local(along.dot(offset), cross(along, offset));
    const double turn = arc.sweep < 0.0 ? -1.0 : 1.0;
    const double sweep = std::abs(arc.sweep);
    Nearest nearest;
    const auto offer = [&](double t) {
        nearest.offer(t, (point_at(arc, t) - target).squaredNorm());
    };
    for (const double angle : EllipseMinima(semi_major, arc.ratio * semi_major, local).angles) {
        double from_start = turn * (angle - arc.start_angle);
        from_start -= full_turn * std::floor(from_start / full_turn);
        if (from_start <= sweep) offer(from_start / sweep);
    }
    offer(0.0);
    offer(1.0);
    return nearest.parameter;
}

/// Squared distance of a point from the box of the piece's control points, a lower bound on that
/// from the piece.
double squared_distance_to_hull(const BezierPiece& piece, const Point2& target) {
    Box2 box;
    for (int i = 0; i <= piece.degree; ++i) box.extend(piece.control_point(i));
    return box.squaredExteriorDistance(target);
}

/// True if all Bernstein coefficients of |N - q w|^2 - s w^2 are positive, for the piece N / w, the
/// target q and s a squared distance: then no point of the piece is nearer. The bound closes in on
/// a stretch at one distance, and on a piece that is one point, where boxes don't. Products in
/// Bernstein form: R. T. Farouki, V. T. Rajan, "Algorithms for polynomials in Bernstein form",
/// Computer Aided Geometric Design 5 (1988), section 4.2 (from memory):
/// c_k = sum of binom(p, i) binom(p, k - i) / binom(2 p, k) a_i b_{k-i}. The last factor is
/// positive.
bool stays_away(const BezierPiece& piece, const Point2& target, double squared_distance) {
    const int p = piece.degree;
    std::array<Vector2, detail::max_degree + 1> offsets;
    std::array<double, detail::max_degree + 1> weights;
    double binomial = 1.0;
    for (int i = 0; i <= p; ++i) {
        const double weight = binomial * piece.control[i].z();
        offsets[i] = binomial * (piece.control[i].head<2>() - piece.control[i].z() * target);
        weights[i] = weight;
        binomial = binomial * (p - i) / (i + 1);
    }
    for (int k = 0; k <= 2 * p; ++k) {
        double coefficient = 0.0;
        for (int i = std::max(0, k - p); i <= std::min(k, p); ++i)
            coefficient +=
                offsets[i].dot(offsets[k - i]) - squared_distance * weights[i] * weights[k - i];
        if (coefficient < 0.0) return false;
    }
    return true;
}

/// Branch and bound on Bezier pieces: a piece that is further away than the best point is dropped,
/// others are halved until Newton's method is safe, or the piece is one point within rounding.
class SplineSearch {
  public:
    SplineSearch(const Spline& spline, const Point2& target) : spline_(spline), target_(target) {
        double size = target.cwiseAbs().maxCoeff();
        for (const Point2& pole : spline.poles) size = std::max(size, pole.cwiseAbs().maxCoeff());
        constexpr double steps_lost = 32.0;
        rounding_ = steps_lost * std::numeric_limits<double>::epsilon() * size;
    }

    double nearest() {
        const auto offer_knot = [&](double knot) {
            offer(knot, detail::evaluate(spline_, knot, 0).point);
        };
        offer_knot(spline_.knots.front());
        detail::for_each_span(spline_, [&](int span) { offer_knot(spline_.knots[span + 1]); });
        detail::for_each_span(spline_, [&](int span) {
            Box2 hull;
            for (int i = span - spline_.degree; i <= span; ++i) hull.extend(spline_.poles[i]);
            if (hull.squaredExteriorDistance(target_) < nearest_.squared_distance)
                search(detail::bezier_piece(spline_, span), 0);
        });
        return nearest_.parameter;
    }

  private:
    void offer(double t, const Point2& point) {
        nearest_.offer(t, (point - target_).squaredNorm());
    }

    void search(const BezierPiece& piece, int depth) {
        constexpr int deepest = 30;
        if (squared_distance_to_hull(piece, target_) >= worthwhile()) return;
        const double middle = 0.5 * (piece.first + piece.last);
        // Parameters have no place between: what the curve does there can't be asked for.
        if (!(middle > piece.first && middle < piece.last)) return;
        offer(middle, piece.evaluate(middle).point);
        if (depth >= 2 && (polish(piece) || stays_away(piece, target_, worthwhile()))) return;
        if (depth == deepest) return;
        BezierPiece left;
        BezierPiece right;
        piece.split(0.5, left, right);
        // The nearer half first: it tightens the bound for the other.
        if (squared_distance_to_hull(left, target_) <= squared_distance_to_hull(right, target_)) {
            search(left, depth + 1);
            search(right, depth + 1);
        } else {
            search(right, depth + 1);
            search(left, depth + 1);
        }
    }

    /// The squared distance that is nearer than the best by more than rounding.
    double worthwhile() const {
        constexpr double share = 1.0 - 5e-13;
        const double distance = share * std::sqrt(nearest_.squared_distance) - rounding_;
        return distance > 0.0 ? distance * distance : 0.0;
    }

    /// True if the piece is settled: the distance's slope changes sign at most once on it (it is
    /// convex there, as far as the samples at ends and middle tell), and the root is offered.
    bool polish(const BezierPiece& piece) {
        const auto slope_of_distance = [&](double t, double& g, double& slope) {
            // The piece's own derivatives: at a knot they may differ from the next piece's.
            const detail::Jet jet = piece.evaluate(t);
            const Vector2 offset = jet.point - target_;
            g = offset.dot(jet.first);
            slope = jet.first.squaredNorm() + offset.dot(jet.second);
        };
        const double middle = 0.5 * (piece.first + piece.last);
        double g_first = 0.0, g_last = 0.0, g = 0.0;
        double slope_first = 0.0, slope_last = 0.0, slope = 0.0;
        slope_of_distance(piece.first, g_first, slope_first);
        slope_of_distance(middle, g, slope);
        slope_of_distance(piece.last, g_last, slope_last);
        const double least = std::min({slope_first, slope, slope_last});
        const double most = std::max({slope_first, slope, slope_last});
        if (!(least > 0.5 * most)) return false;
        if (g_first < 0.0 && g_last > 0.0) {
            const double root = bracketed_root(piece.first, piece.last, slope_of_distance);
            offer(root, piece.evaluate(root).point);
        }
        return true;
    }

    const Spline& spline_;
    const Point2& target_;
    double rounding_;  ///< mm that coordinates of the pieces may be off by
    Nearest nearest_;
};

}  // namespace

double nearest_parameter(const Curve& curve, const Point2& target) {
    return std::visit(
        Overloaded{[&](const Line& line) { return nearest_on_line(line, target); },
                   [&](const Arc& arc) { return nearest_on_arc(arc, target); },
                   [&](const EllipticalArc& arc) { return nearest_on_ellipse(arc, target); },
                   [&](const Spline& spline) {
                       detail::require_consistent(spline);
                       return SplineSearch(spline, target).nearest();
                   }},
        curve);
}

}  // namespace planform
