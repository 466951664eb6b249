#pragma once

/// Solids as triangles, to be looked at: outlines come from the surfaces themselves.

#include <array>
#include <cstdint>
#include <vector>

#include "planform/geometry.hpp"
#include "planform/model.hpp"

namespace planform {

/// Triangles of a surface. The points of each face are its own, so that its edges stay sharp.
struct SurfaceMesh {
    std::vector<Point3> points;  ///< mm, model coordinates
    /// Numbers of points, counter-clockwise seen from outside.
    std::vector<std::array<std::uint32_t, 3>> triangles;
};

/// The surface of a solid as triangles that stray from it by `tolerance` mm and turn by 0.3 rad
/// from one to the next, both about. Throws GeometryError if the tolerance is no finite number
/// above 0, or names the face that the kernel can't mesh.
SurfaceMesh surface_mesh(const Solid& solid, double tolerance = 0.1);

}  // namespace planform
