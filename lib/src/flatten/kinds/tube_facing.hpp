#pragma once

/// How spheres and tori face the viewer: the normal at (u, v) is cos v radial(u) + sin v Z.

#include <cmath>

#include "flatten/bounds/range.hpp"
#include "planform/geometry.hpp"
#include "solid/face_surface.hpp"

namespace planform::flatten {

/// z component of the normal.
inline double tube_facing(const solid::FaceSurface& s, const Point2& uv) {
    return std::cos(uv.y()) * s.radial(uv.x()).z() + std::sin(uv.y()) * s.z().z();
}

inline Vector2 tube_facing_gradient(const solid::FaceSurface& s, const Point2& uv) {
    const double radial = s.radial(uv.x()).z(), turned = s.radial(uv.x() + 0.5 * pi).z();
    return {std::cos(uv.y()) * turned, std::cos(uv.y()) * s.z().z() - std::sin(uv.y()) * radial};
}

/// Holds its values in a box of parameters.
inline Range tube_facing_range(const solid::FaceSurface& s, const Box2& box) {
    const Point2 low = box.min(), high = box.max();
    return wave(1.0, 0.0, low.y(), high.y()) * wave(s.x().z(), s.y().z(), low.x(), high.x()) +
           wave(0.0, s.z().z(), low.y(), high.y());
}

}  // namespace planform::flatten
