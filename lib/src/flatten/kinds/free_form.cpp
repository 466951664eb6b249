/// Surfaces of no closed form: all is read off their derivatives.

#include "flatten/kinds/surface_kind.hpp"

namespace planform::flatten {

double SurfaceKind::facing(const solid::FaceSurface& surface, int outward, const Point2& uv) const {
    const solid::SurfacePoint p = surface.first_order(uv);
    const double size = p.du.norm() * p.dv.norm();
    if (size == 0.0) return -edge_on;
    return outward * cross(p.du.head<2>(), p.dv.head<2>()) / size - edge_on;
}

FieldValue SurfaceKind::facing_with_gradient(const solid::FaceSurface& surface, int outward,
                                             const Point2& uv) const {
    const solid::SurfacePoint p = surface.second_order(uv);
    const double size = p.du.norm() * p.dv.norm();
    if (size == 0.0) return {-edge_on, Vector2::Zero()};
    // Gradient of the normal's z without the change of its length, which does not move the zeros.
    const double by_u =
        cross(p.duu.head<2>(), p.dv.head<2>()) + cross(p.du.head<2>(), p.duv.head<2>());
    const double by_v =
        cross(p.duv.head<2>(), p.dv.head<2>()) + cross(p.du.head<2>(), p.dvv.head<2>());
    return {outward * cross(p.du.head<2>(), p.dv.head<2>()) / size - edge_on,
            outward / size * Vector2(by_u, by_v)};
}

std::optional<Range> SurfaceKind::facing_range(const solid::FaceSurface&, int, const Box2&) const {
    return std::nullopt;
}

bool SurfaceKind::is_edge_on(const solid::FaceSurface&) const { return false; }

std::optional<Parameter> SurfaceKind::extruded_along() const { return std::nullopt; }

std::optional<std::vector<Branch>> SurfaceKind::folds(const solid::FaceSurface&) const {
    return std::nullopt;
}

std::optional<std::vector<Branch>> SurfaceKind::section(const solid::FaceSurface&, double) const {
    return std::nullopt;
}

std::optional<std::vector<Point2>> SurfaceKind::section_seeds(const solid::FaceSurface&,
                                                              double) const {
    return std::nullopt;
}

bool SurfaceKind::touches_along_line(const solid::FaceSurface&, double, double) const {
    return false;
}

const SurfaceKind& free_form_kind() {
    static const SurfaceKind kind;
    return kind;
}

}  // namespace planform::flatten
