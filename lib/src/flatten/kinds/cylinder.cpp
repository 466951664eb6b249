#include <algorithm>
#include <cmath>

#include "flatten/curves/interpolated_fit.hpp"
#include "flatten/curves/projected_curve.hpp"
#include "flatten/kinds/branch_parts.hpp"
#include "flatten/kinds/surface_kind.hpp"

namespace planform::flatten {
namespace {

// Notation as in FaceSurface; heights are those over the cutting plane, n its normal (the z axis).

/// Cylinders whose axis makes less than this (rad) with the plane have an ellipse too long to be
/// written as one.
constexpr double nearly_parallel = 1e-5;

/// A slanted plane cuts a cylinder in an ellipse, u the eccentric angle.
Branch cylinder_ellipse(const solid::FaceSurface& s, double height) {
    const double slope = s.z().z();
    // Height of the axis point is h + v Z_z; the radial part adds R (X_z cos u + Y_z sin u).
    Branch branch;
    branch.uv = [&s, slope, height](double u) {
        return Point2(u, -(height + s.radius() * s.radial(u).z()) / slope);
    };
    branch.parameter = [](const Point2& uv) { return uv.x(); };
    branch.distance = [](const Point2&) { return 0.0; };
    branch.project = [&s, slope, height](double from, double to) {
        const Vector3 center = s.origin() - height / slope * s.z();
        const Vector3 a = s.radius() * (s.x() - s.x().z() / slope * s.z());
        const Vector3 b = s.radius() * (s.y() - s.y().z() / slope * s.z());
        return project_conjugate_arc(flat(center), flat(a), flat(b), from, to);
    };
    branch.period = full_turn;
    return branch;
}

/// Nearly straight pieces of the long ellipse of a plane almost along the axis, as functions of v.
std::vector<Branch> long_cylinder_pieces(const solid::FaceSurface& s, double height) {
    const double across = std::hypot(s.x().z(), s.y().z());
    const double middle = std::atan2(s.y().z(), s.x().z());
    std::vector<Branch> result;
    for (const double side : {1.0, -1.0}) {
        const auto angle = [&s, across, middle, height, side](double v) {
            const double cosine = -(height + v * s.z().z()) / (s.radius() * across);
            return middle + side * std::acos(std::clamp(cosine, -1.0, 1.0));
        };
        Branch branch;
        branch.uv = [angle](double v) { return Point2(angle(v), v); };
        branch.parameter = [](const Point2& uv) { return uv.y(); };
        branch.distance = [angle](const Point2& uv) {
            return std::abs(wrapped(uv.x() - angle(uv.y())));
        };
        branch.project = [&s, angle](double from, double to) {
            const auto point = [&](double v) -> Point2 {
                return flat(s.origin() + s.radius() * s.radial(angle(v)) + v * s.z());
            };
            return fit_interpolated(point, from, to, fit_relative * s.radius());
        };
        result.push_back(branch);
    }
    return result;
}

/// The end of such an ellipse, where it is no function of v. With w the angle from the generator at
/// the end, R the radius times the swing of the heights over a turn and e the end's place along the
/// axis, the plane stands 2 R sin^2(w / 2) = |slope| p^2 over the cylinder's side at |v - e| = p^2:
/// smooth in p, and without the loss of digits that a division by the slope costs.
Branch long_ellipse_end(const solid::FaceSurface& s, double height) {
    const double swing = s.radius() * std::hypot(s.x().z(), s.y().z());
    const double slope = s.z().z();
    const double middle_height = height + 0.5 * (s.low().y() + s.high().y()) * slope;
    const double side = middle_height > 0.0 ? -1.0 : 1.0;  // of the generator at the end
    const double generator = std::atan2(side * s.y().z(), side * s.x().z());
    // Heights along that generator: height + side swing + v slope, nought at the end.
    const double end = -(height + side * swing) / slope;
    // Into the ellipse the generator lies beyond the plane.
    const double way = slope * side > 0.0 ? 1.0 : -1.0;
    const double narrowness = std::sqrt(std::abs(slope) / (2.0 * swing));
    const double length = std::max(s.high().y() - s.low().y(), 1e-300);
    const auto uv = [=](double p) {
        const double half = std::asin(std::clamp(narrowness * p, -1.0, 1.0));
        return Point2(generator + 2.0 * half, end + way * p * p);
    };
    Branch branch;
    branch.uv = uv;
    branch.parameter = [=](const Point2& at) {
        const double turn = wrapped(at.x() - generator);
        const double depth = way * (at.y() - end);
        // Where v is clear of the end it is exact, the angle else.
        if (depth < 1e-3 * length) return std::sin(0.5 * turn) / narrowness;
        return std::copysign(std::sqrt(depth), turn);
    };
    branch.distance = [](const Point2&) { return 0.0; };
    branch.project = [&s, uv](double from, double to) {
        const auto point = [&](double p) -> Point2 {
            const Point2 at = uv(p);
            return flat(s.origin() + s.radius() * s.radial(at.x()) + at.y() * s.z());
        };
        return fit_interpolated(point, from, to, fit_relative * s.radius());
    };
    return branch;
}

std::vector<Branch> cylinder_section(const solid::FaceSurface& s, double height) {
    const double slope = s.z().z();
    const double across = std::hypot(s.x().z(), s.y().z());
    if (std::abs(slope) >= nearly_parallel) return {cylinder_ellipse(s, height)};
    const double radius = s.radius() * across;
    const double lowest = std::min(slope * s.low().y(), slope * s.high().y()) + height;
    const double highest = std::max(slope * s.low().y(), slope * s.high().y()) + height;
    if (lowest > radius || highest < -radius) return {};
    // Straight within rounding over the length of the face.
    if (highest - lowest < 1e-13 * s.radius())
        return rulings(s,
                       solve_cosine(s.x().z(), s.y().z(), -0.5 * (lowest + highest) / s.radius()));
    // How deep the plane stands under the cylinder's side: nought at an end of the ellipse. Many
    // lengths of the face away from there the width is a smooth function of v, and the place of the
    // end has no digits left.
    constexpr double far_from_end = 10.0;
    const double depth = radius - std::max(std::abs(lowest), std::abs(highest));
    if (depth < far_from_end * (highest - lowest)) return {long_ellipse_end(s, height)};
    return long_cylinder_pieces(s, height);
}

/// The normal at u is radial(u).
class Cylinder final : public SurfaceKind {
  public:
    double facing(const solid::FaceSurface& s, int outward, const Point2& uv) const override {
        return outward * s.handed() * s.radial(uv.x()).z();
    }
    FieldValue facing_with_gradient(const solid::FaceSurface& s, int outward,
                                    const Point2& uv) const override {
        const double turned = s.radial(uv.x() + 0.5 * pi).z();
        return {facing(s, outward, uv), {outward * s.handed() * turned, 0.0}};
    }
    std::optional<Range> facing_range(const solid::FaceSurface& s, int outward,
                                      const Box2& box) const override {
        return outward * s.handed() * wave(s.x().z(), s.y().z(), box.min().x(), box.max().x());
    }
    bool is_edge_on(const solid::FaceSurface& s) const override {
        return std::hypot(s.x().z(), s.y().z()) < edge_on;
    }
    std::optional<std::vector<Branch>> folds(const solid::FaceSurface& s) const override {
        return rulings(s, solve_cosine(s.x().z(), s.y().z(), 0.0));
    }
    std::optional<std::vector<Branch>> section(const solid::FaceSurface& s,
                                               double level) const override {
        return cylinder_section(s, s.origin().z() - level);
    }
    bool touches_along_line(const solid::FaceSurface& s, double level,
                            double depth) const override {
        return runs_along_ruling(s, level, depth);
    }
};

}  // namespace

const SurfaceKind& cylinder_kind() {
    static const Cylinder kind;
    return kind;
}

}  // namespace planform::flatten
