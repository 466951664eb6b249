#include <cmath>

#include "flatten/kinds/branch_parts.hpp"
#include "flatten/kinds/surface_kind.hpp"

namespace planform::flatten {
namespace {

std::vector<Branch> plane_line(const solid::FaceSurface& s, double height) {
    const Vector3 normal = s.z();
    const Vector3 direction = Vector3::UnitZ().cross(normal).normalized();
    const auto at = [&s](const Point2& uv) -> Point3 {
        return s.origin() + uv.x() * s.x() + uv.y() * s.y();
    };
    // Foot: the point of both planes nearest to the surface's origin.
    const Vector3 downhill = normal.cross(direction);
    const Point3 foot = s.origin() - height / downhill.z() * downhill;
    Branch branch;
    branch.uv = [&s, foot, direction](double t) {
        const Vector3 p = foot + t * direction - s.origin();
        return Point2(p.dot(s.x()), p.dot(s.y()));
    };
    branch.parameter = [at, foot, direction](const Point2& uv) {
        return (at(uv) - foot).dot(direction);
    };
    branch.distance = [](const Point2&) { return 0.0; };
    branch.project = [foot, direction](double from, double to) -> std::vector<Curve> {
        return {Line{flat(foot + from * direction), flat(foot + to * direction)}};
    };
    return {branch};
}

class Plane final : public SurfaceKind {
  public:
    double facing(const solid::FaceSurface& s, int outward, const Point2&) const override {
        return outward * s.handed() * s.z().z();
    }
    FieldValue facing_with_gradient(const solid::FaceSurface& s, int outward,
                                    const Point2& uv) const override {
        return {facing(s, outward, uv), Vector2::Zero()};
    }
    bool is_edge_on(const solid::FaceSurface& s) const override {
        return std::abs(s.z().z()) < edge_on;
    }
    std::optional<std::vector<Branch>> folds(const solid::FaceSurface&) const override {
        return std::vector<Branch>{};
    }
    std::optional<std::vector<Branch>> section(const solid::FaceSurface& s,
                                               double level) const override {
        return plane_line(s, s.origin().z() - level);
    }
};

}  // namespace

const SurfaceKind& plane_kind() {
    static const Plane kind;
    return kind;
}

}  // namespace planform::flatten
