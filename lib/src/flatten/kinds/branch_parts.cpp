#include "flatten/kinds/branch_parts.hpp"

#include <algorithm>
#include <cmath>

#include "flatten/curves/projected_curve.hpp"

namespace planform::flatten {
namespace {

std::vector<Curve> straight(const Point3& start, const Point3& end) {
    return {Line{start.head<2>(), end.head<2>()}};
}

/// A straight line u = const of a cylinder or cone.
Branch ruling(const solid::FaceSurface& s, double u) {
    Branch branch;
    branch.uv = [u](double v) { return Point2(u, v); };
    branch.parameter = [](const Point2& uv) { return uv.y(); };
    branch.distance = [u](const Point2& uv) { return std::abs(wrapped(uv.x() - u)); };
    branch.project = [&s, u](double from, double to) {
        return straight(s.first_order({u, from}).position, s.first_order({u, to}).position);
    };
    return branch;
}

}  // namespace

double wrapped(double angle) { return angle - full_turn * std::round(angle / full_turn); }

double turn_from(double low, double angle) {
    const double turned = std::fmod(angle - low, full_turn);
    return low + (turned < 0.0 ? turned + full_turn : turned);
}

std::vector<double> solve_cosine(double a, double b, double c) {
    const double size = std::hypot(a, b);
    if (!(std::abs(c) < size) || size < perpendicular) return {};
    const double middle = std::atan2(b, a), half = std::acos(c / size);
    return {middle - half, middle + half};
}

std::vector<Branch> rulings(const solid::FaceSurface& s, const std::vector<double>& angles) {
    std::vector<Branch> result;
    for (const double u : angles) result.push_back(ruling(s, u));
    return result;
}

bool runs_along_ruling(const solid::FaceSurface& s, double level, double depth) {
    // Height of the highest and lowest generator at both ends: axis point +- radius times its
    // swing.
    const double across = std::hypot(s.x().z(), s.y().z());
    for (const double side : {1.0, -1.0}) {
        const auto height_at = [&](double v) {
            const solid::FaceSurface::Meridian at = s.meridian(v);
            return s.origin().z() - level + at.height * s.z().z() + side * at.radius * across;
        };
        if (std::abs(height_at(s.low().y())) <= depth && std::abs(height_at(s.high().y())) <= depth)
            return true;
    }
    return false;
}

Branch sphere_circle(const solid::FaceSurface& s, const Point3& center, const Vector3& axis,
                     double radius) {
    const Vector3 a = axis.unitOrthogonal();
    const Vector3 b = axis.cross(a);
    Branch branch;
    branch.uv = [&s, center, a, b, radius](double angle) {
        const Vector3 p =
            center + radius * (std::cos(angle) * a + std::sin(angle) * b) - s.origin();
        const double u = std::atan2(p.dot(s.y()), p.dot(s.x()));
        return Point2(u < s.low().x() - 1e-9 ? u + full_turn : u,
                      std::asin(std::clamp(p.dot(s.z()) / s.radius(), -1.0, 1.0)));
    };
    branch.parameter = [&s, center, a, b](const Point2& uv) {
        const Vector3 p = s.first_order(uv).position - center;
        return std::atan2(p.dot(b), p.dot(a));
    };
    branch.distance = [](const Point2&) { return 0.0; };
    branch.project = [center, a, b, radius](double from, double to) {
        return project_conjugate_arc(center.head<2>(), radius * a.head<2>(), radius * b.head<2>(),
                                     from, to);
    };
    branch.period = full_turn;
    return branch;
}

}  // namespace planform::flatten
