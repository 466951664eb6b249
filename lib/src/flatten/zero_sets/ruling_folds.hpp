#pragma once

/// Folds of extruded surfaces: straight lines along the extrusion.

#include <vector>

#include "flatten/bounds/spline_direction.hpp"
#include "flatten/zero_sets/level_curve.hpp"
#include "solid/face_surface.hpp"

namespace planform::flatten {

/// Joins the roots on the boundary of a face whose surface is extruded along one parameter. Roots
/// on one line share the other parameter, and along the line starts and ends alternate: nothing has
/// to be followed, so that a fold may be a crease, where the sign jumps. Throws
/// GeometryError(face_not_flattened) if roots are left that share no line.
std::vector<LevelCurve> ruling_folds(const solid::FaceSurface& surface, Parameter along,
                                     std::vector<BoundaryRoot> roots);

}  // namespace planform::flatten
