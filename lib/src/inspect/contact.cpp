/// Notation: P(t), Q(u) points of the two curves, D = P - Q. A disc over the diameter PQ touches
/// both curves where D is normal to them:
///   D . P' = 0,  D . Q' = 0,
/// two equations that Newton's method solves. Parallel walls make them dependent; the step of least
/// length (from a singular value decomposition) then stays where it is. A corner's foot is fixed.

#include "inspect/contact.hpp"

#include <Eigen/LU>
#include <Eigen/SVD>
#include <algorithm>
#include <cmath>
#include <limits>

namespace planform::inspection {
namespace {

constexpr int most_steps = 40;
/// Steps below this, relative to the parameter's range, are rounding.
constexpr double settled = 1e-14;

/// A foot that slides along one curve, or stays in a corner.
struct Trial {
    int curve;
    double t;
    bool corner;
};

/// What the foot may turn out to be: on the curve itself, in the corners at its ends, on its
/// neighbours; the last two only where the guess lies near that end.
std::vector<Trial> trials(const CurveIndex& index, const Foot& foot) {
    const OutlineCurve& outline = index.curves()[static_cast<std::size_t>(foot.curve)];
    const Interval range = domain(*outline.curve);
    const double near = 0.2 * (range.last - range.first);
    std::vector<Trial> result{{foot.curve, foot.t, false}};
    const bool near_end = foot.t > range.last - near, near_start = foot.t < range.first + near;
    if (near_end) result.push_back({foot.curve, range.last, true});
    if (near_start) result.push_back({foot.curve, range.first, true});
    // A curve that is a whole contour is its own neighbour.
    if (near_end) {
        const Curve& next = *index.curves()[static_cast<std::size_t>(outline.next)].curve;
        result.push_back({outline.next, domain(next).first, false});
    }
    if (near_start) {
        const Curve& previous = *index.curves()[static_cast<std::size_t>(outline.previous)].curve;
        result.push_back({outline.previous, domain(previous).last, false});
    }
    return result;
}

/// True if t is inside the domain, but for rounding; puts it inside.
bool put_inside(const Curve& curve, double& t) {
    const Interval range = domain(curve);
    const double slack = 1e-9 * (range.last - range.first);
    if (!(t >= range.first - slack && t <= range.last + slack)) return false;
    t = std::clamp(t, range.first, range.last);
    return true;
}

/// Parameter steps no longer than a quarter of the domain, so that Newton's method stays near.
double limited(const Curve& curve, double step) {
    const Interval range = domain(curve);
    const double most = 0.25 * (range.last - range.first);
    return std::clamp(step, -most, most);
}

/// Solves D . P' = 0 for a fixed Q.
bool solve_one(const Curve& curve, double& t, const Point2& target) {
    const Interval range = domain(curve);
    const double length = range.last - range.first;
    for (int i = 0; i < most_steps; ++i) {
        const Vector2 offset = point_at(curve, t) - target;
        const Vector2 first = derivative_at(curve, t);
        const double slope = first.squaredNorm() + offset.dot(second_derivative_at(curve, t));
        if (slope == 0.0) return false;
        const double step = limited(curve, -offset.dot(first) / slope);
        t += step;
        if (t < range.first - length || t > range.last + length) return false;
        if (std::abs(step) <= settled * length) break;
        if (i + 1 == most_steps) return false;
    }
    return put_inside(curve, t);
}

/// Solves both equations.
bool solve_both(const Curve& first, double& t, const Curve& second, double& u) {
    const Interval range_t = domain(first), range_u = domain(second);
    const double size_t_ = range_t.last - range_t.first, size_u = range_u.last - range_u.first;
    for (int i = 0; i < most_steps; ++i) {
        const Vector2 d = point_at(first, t) - point_at(second, u);
        const Vector2 p1 = derivative_at(first, t), q1 = derivative_at(second, u);
        // In lengths along the curves, so that least steps are least in mm.
        const double speed_p = p1.norm(), speed_q = q1.norm();
        if (speed_p == 0.0 || speed_q == 0.0) return false;
        const Vector2 tp = p1 / speed_p, tq = q1 / speed_q;
        Eigen::Matrix2d jacobian;
        jacobian << 1.0 + d.dot(second_derivative_at(first, t)) / (speed_p * speed_p), -tp.dot(tq),
            -tp.dot(tq), 1.0 - d.dot(second_derivative_at(second, u)) / (speed_q * speed_q);
        const Eigen::Vector2d value(d.dot(tp), -d.dot(tq));
        Eigen::JacobiSVD<Eigen::Matrix2d> decomposition(jacobian,
                                                        Eigen::ComputeFullU | Eigen::ComputeFullV);
        decomposition.setThreshold(1e-7);
        const Eigen::Vector2d step = -decomposition.solve(value);
        const double step_t = limited(first, step.x() / speed_p);
        const double step_u = limited(second, step.y() / speed_q);
        t += step_t;
        u += step_u;
        if (t < range_t.first - size_t_ || t > range_t.last + size_t_) return false;
        if (u < range_u.first - size_u || u > range_u.last + size_u) return false;
        if (std::abs(step_t) <= settled * size_t_ && std::abs(step_u) <= settled * size_u) break;
        if (i + 1 == most_steps && value.norm() > 1e-10 * d.norm()) return false;
    }
    return put_inside(first, t) && put_inside(second, u);
}

/// Curvature of the wall at a foot, seen from the disc: positive where it bends away.
double opening(const Curve& curve, double t, bool corner, const Vector2& inward) {
    if (corner) return std::numeric_limits<double>::infinity();
    const Vector2 first = derivative_at(curve, t);
    return -second_derivative_at(curve, t).dot(inward) / first.squaredNorm();
}

}  // namespace

bool grows_to_both_sides(double first_opening, double second_opening, double radius) {
    const auto offset = [&](double k) {
        if (!std::isfinite(k)) return 1.0 / radius;
        const double denominator = 1.0 + k * radius;
        return denominator > 1e-9 ? k / denominator : -std::numeric_limits<double>::infinity();
    };
    return offset(first_opening) + offset(second_opening) > -1e-7 / radius;
}

std::optional<Contact> ContactFinder::across(const Foot& first, const Foot& second) const {
    for (const Trial& a : trials(index_, first)) {
        for (const Trial& b : trials(index_, second)) {
            const Curve& curve_a = *index_.curves()[static_cast<std::size_t>(a.curve)].curve;
            const Curve& curve_b = *index_.curves()[static_cast<std::size_t>(b.curve)].curve;
            double t = a.t, u = b.t;
            bool solved = true;
            if (!a.corner && !b.corner)
                solved = solve_both(curve_a, t, curve_b, u);
            else if (!a.corner)
                solved = solve_one(curve_a, t, point_at(curve_b, u));
            else if (!b.corner)
                solved = solve_one(curve_b, u, point_at(curve_a, t));
            if (!solved) continue;
            const Point2 p = point_at(curve_a, t), q = point_at(curve_b, u);
            const double radius = 0.5 * (p - q).norm();
            std::optional<Contact> contact =
                checked({{a.curve, t}, {b.curve, u}}, 0.5 * (p + q), radius);
            if (!contact) continue;
            contact->is_neck = radius <= slack_;
            if (!contact->is_neck) {
                const Vector2 inward = (q - p) / (2.0 * radius);
                contact->is_neck =
                    grows_to_both_sides(opening(curve_a, t, a.corner, inward),
                                        opening(curve_b, u, b.corner, -inward), radius);
            }
            return contact;
        }
    }
    return std::nullopt;
}

Point2 ContactFinder::position(const Foot& foot) const {
    return point_at(*index_.curves()[static_cast<std::size_t>(foot.curve)].curve, foot.t);
}

/// Goes on to the next curve as long as that brings it nearer.
Foot ContactFinder::nearest_along(Foot foot, const Point2& target) const {
    const auto on_curve = [&](int number) {
        const Curve& curve = *index_.curves()[static_cast<std::size_t>(number)].curve;
        return Foot{number, nearest_parameter(curve, target)};
    };
    foot = on_curve(foot.curve);
    double distance = (position(foot) - target).norm();
    for (int i = 0; i < most_steps; ++i) {
        const OutlineCurve& outline = index_.curves()[static_cast<std::size_t>(foot.curve)];
        const Interval range = domain(*outline.curve);
        const double end = 1e-9 * (range.last - range.first);
        bool moved = false;
        // Only from the end that they share: on the far side of a hump the next may be nearer, too.
        for (const bool forward : {true, false}) {
            if (forward ? foot.t < range.last - end : foot.t > range.first + end) continue;
            const Foot candidate = on_curve(forward ? outline.next : outline.previous);
            const double shorter = (position(candidate) - target).norm();
            if (shorter >= distance * (1.0 - 1e-12)) continue;
            foot = candidate;
            distance = shorter;
            moved = true;
            break;
        }
        if (!moved) break;
    }
    return foot;
}

std::optional<Contact> ContactFinder::downhill(Foot first, Foot second) const {
    double distance = std::numeric_limits<double>::infinity();
    for (int i = 0; i < most_steps; ++i) {
        first = nearest_along(first, position(second));
        second = nearest_along(second, position(first));
        const double shorter = (position(first) - position(second)).norm();
        if (shorter >= distance * (1.0 - 1e-9)) break;
        distance = shorter;
    }
    // Feet on one contour may walk into each other: no place of its own.
    if (distance <= slack_) return std::nullopt;
    return across(first, second);
}

std::optional<Contact> ContactFinder::between(const Foot& first, const Foot& second,
                                              const Foot& third, const Point2& guess) const {
    std::vector<Foot> feet{first, second, third};
    Point2 center = guess;
    double radius = 0.0;
    double before = std::numeric_limits<double>::infinity();
    for (int i = 0; i < most_steps; ++i) {
        Eigen::Matrix3d jacobian;
        Eigen::Vector3d distances;
        for (int k = 0; k < 3; ++k) {
            Foot& foot = feet[static_cast<std::size_t>(k)];
            const Curve& curve = *index_.curves()[static_cast<std::size_t>(foot.curve)].curve;
            // Where the normal foot is beyond the curve's end, the neighbour's or the corner
            // counts.
            if (double t = foot.t; solve_one(curve, t, center))
                foot.t = t;
            else
                foot = nearest_along(foot, center);
            const Vector2 away = center - position(foot);
            distances(k) = away.norm();
            if (distances(k) == 0.0) return std::nullopt;
            jacobian.row(k) << away.x() / distances(k), away.y() / distances(k), -1.0;
        }
        const Eigen::FullPivLU<Eigen::Matrix3d> decomposition(jacobian);
        if (std::abs(jacobian.determinant()) < 1e-9) return std::nullopt;
        const double mean = distances.mean();
        const Eigen::Vector3d residual = distances - Eigen::Vector3d::Constant(mean);
        const Eigen::Vector3d step = decomposition.solve(-residual);
        center += step.head<2>();
        radius = mean + step(2);
        const double moved = step.head<2>().norm();
        if (!(moved < 2.0 * mean)) return std::nullopt;
        if (moved <= 1e-13 * mean || (moved <= 1e-9 * mean && moved >= before)) break;
        before = moved;
        if (i + 1 == most_steps) return std::nullopt;
    }
    return checked(feet, center, radius);
}

std::optional<Contact> ContactFinder::checked(const std::vector<Foot>& feet, const Point2& center,
                                              double radius) const {
    Contact contact{feet, {}, center, 2.0 * radius, false, false};
    for (const Foot& foot : feet) {
        contact.points.push_back(
            point_at(*index_.curves()[static_cast<std::size_t>(foot.curve)].curve, foot.t));
        if (std::abs((contact.points.back() - center).norm() - radius) > slack_)
            return std::nullopt;
    }
    if (!index_.disc_is_empty(center, radius, slack_)) return std::nullopt;
    if (radius > 0.0) {
        contact.is_material =
            index_.leads_into_material(feet[0].curve, feet[0].t, center - contact.points[0]);
        for (std::size_t i = 1; i < feet.size(); ++i)
            if (index_.leads_into_material(feet[i].curve, feet[i].t, center - contact.points[i]) !=
                contact.is_material)
                return std::nullopt;
    }
    return contact;
}

}  // namespace planform::inspection
