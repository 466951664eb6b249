#pragma once

/// Points and directions from the kernel's types and into them.

#include <gp_Dir.hxx>
#include <gp_Pnt.hxx>

#include "planform/geometry.hpp"

namespace planform::model {

/// Of a point, a vector or a direction in space.
template <class OfKernel>
requires requires(const OfKernel& p) { p.Z(); }
Vector3 from_kernel(const OfKernel& p) { return {p.X(), p.Y(), p.Z()}; }

/// The same in the plane.
template <class OfKernel>
requires(!requires(const OfKernel& p) { p.Z(); }) Vector2 from_kernel(const OfKernel& p) {
    return {p.X(), p.Y()};
}

inline gp_Pnt to_kernel_point(const Point3& p) { return {p.x(), p.y(), p.z()}; }

/// Of any length but nought.
inline gp_Dir to_kernel_direction(const Vector3& v) { return {v.x(), v.y(), v.z()}; }

}  // namespace planform::model
