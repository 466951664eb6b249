#include "flatten/level_field.hpp"

#include <cmath>

namespace planform::flatten {

bool FacingField::is_edge_on() const {
    const FaceSurface& s = surface();
    if (s.kind() == GeomAbs_Plane) return std::abs(s.z().z()) < edge_on;
    return s.kind() == GeomAbs_Cylinder && std::hypot(s.x().z(), s.y().z()) < edge_on;
}

double FacingField::value(const Point2& uv) const {
    const FaceSurface& s = surface();
    const double sign = outward() * s.handed();
    const double radial = s.radial(uv.x()).z();
    switch (s.kind()) {
        case GeomAbs_Plane: return sign * s.z().z();
        case GeomAbs_Cylinder: return sign * radial;
        case GeomAbs_Cone: {
            const double side = s.radius() + uv.y() * std::sin(s.half_angle()) < 0.0 ? -1.0 : 1.0;
            return sign * side *
                   (std::cos(s.half_angle()) * radial - std::sin(s.half_angle()) * s.z().z());
        }
        case GeomAbs_Sphere:
            return sign * (std::cos(uv.y()) * radial + std::sin(uv.y()) * s.z().z());
        case GeomAbs_Torus: {
            // A spindle torus turns its normal where R + r cos v < 0.
            const double side = s.radius() + s.tube_radius() * std::cos(uv.y()) < 0.0 ? -1.0 : 1.0;
            return sign * side * (std::cos(uv.y()) * radial + std::sin(uv.y()) * s.z().z());
        }
        default: break;
    }
    const SurfacePoint p = s.first_order(uv);
    const double size = p.du.norm() * p.dv.norm();
    if (size == 0.0) return -edge_on;
    return outward() * cross(p.du.head<2>(), p.dv.head<2>()) / size - edge_on;
}

FieldValue FacingField::with_gradient(const Point2& uv) const {
    const FaceSurface& s = surface();
    const double sign = outward() * s.handed();
    const double radial = s.radial(uv.x()).z();
    const double turned = s.radial(uv.x() + 0.5 * pi).z();
    switch (s.kind()) {
        case GeomAbs_Cylinder: return {value(uv), {sign * turned, 0.0}};
        case GeomAbs_Cone: {
            const double side = s.radius() + uv.y() * std::sin(s.half_angle()) < 0.0 ? -1.0 : 1.0;
            return {value(uv), {sign * side * std::cos(s.half_angle()) * turned, 0.0}};
        }
        case GeomAbs_Sphere:
        case GeomAbs_Torus: {
            const double side =
                s.kind() == GeomAbs_Torus && s.radius() + s.tube_radius() * std::cos(uv.y()) < 0.0
                    ? -1.0
                    : 1.0;
            return {value(uv),
                    sign * side *
                        Vector2(std::cos(uv.y()) * turned,
                                std::cos(uv.y()) * s.z().z() - std::sin(uv.y()) * radial)};
        }
        default: break;
    }
    const SurfacePoint p = s.second_order(uv);
    const double size = p.du.norm() * p.dv.norm();
    if (size == 0.0) return {-edge_on, Vector2::Zero()};
    // Gradient of the normal's z without the change of its length, which does not move the zeros.
    const double by_u = cross(p.duu.head<2>(), p.dv.head<2>()) + cross(p.du.head<2>(), p.duv.head<2>());
    const double by_v = cross(p.duv.head<2>(), p.dv.head<2>()) + cross(p.du.head<2>(), p.dvv.head<2>());
    return {outward() * cross(p.du.head<2>(), p.dv.head<2>()) / size - edge_on,
            outward() / size * Vector2(by_u, by_v)};
}

double HeightField::value(const Point2& uv) const {
    return surface().first_order(uv).position.z();
}

FieldValue HeightField::with_gradient(const Point2& uv) const {
    const SurfacePoint p = surface().first_order(uv);
    return {p.position.z(), {p.du.z(), p.dv.z()}};
}

}  // namespace planform::flatten
