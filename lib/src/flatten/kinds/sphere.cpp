#include <cmath>

#include "flatten/collect/plane_moves.hpp"
#include "flatten/kinds/branch_parts.hpp"
#include "flatten/kinds/surface_kind.hpp"
#include "flatten/kinds/tube_facing.hpp"

namespace planform::flatten {
namespace {

std::vector<Branch> sphere_section(const solid::FaceSurface& s, double height) {
    const double square = (s.radius() - height) * (s.radius() + height);
    if (s.radius() - std::abs(height) <= in_plane) return {};  // touches at most
    const Point3 center = s.origin() - height * Vector3::UnitZ();
    return {sphere_circle(s, center, Vector3::UnitZ(), std::sqrt(square))};
}

class Sphere final : public SurfaceKind {
  public:
    double facing(const solid::FaceSurface& s, int outward, const Point2& uv) const override {
        return outward * s.handed() * tube_facing(s, uv);
    }
    FieldValue facing_with_gradient(const solid::FaceSurface& s, int outward,
                                    const Point2& uv) const override {
        return {facing(s, outward, uv), outward * s.handed() * tube_facing_gradient(s, uv)};
    }
    std::optional<Range> facing_range(const solid::FaceSurface& s, int outward,
                                      const Box2& box) const override {
        return outward * s.handed() * tube_facing_range(s, box);
    }
    std::optional<std::vector<Branch>> folds(const solid::FaceSurface& s) const override {
        return std::vector<Branch>{sphere_circle(s, s.origin(), Vector3::UnitZ(), s.radius())};
    }
    std::optional<std::vector<Branch>> section(const solid::FaceSurface& s,
                                               double level) const override {
        return sphere_section(s, s.origin().z() - level);
    }
};

}  // namespace

const SurfaceKind& sphere_kind() {
    static const Sphere kind;
    return kind;
}

}  // namespace planform::flatten
