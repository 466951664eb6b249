#pragma once

/// The zero set of a field on one face, as directed curves from root to root of the face's
/// boundary.

#include <vector>

#include "flatten/zero_sets/level_curve.hpp"
#include "flatten/zero_sets/level_field.hpp"

namespace planform::flatten {

/// All folds of the face. Every root is used once. `tolerance` in mm bounds what has no closed
/// form. Throws GeometryError(face_not_flattened) with the cause if the roots can't be joined.
std::vector<LevelCurve> level_curves(const FacingField& field, std::vector<BoundaryRoot> roots,
                                     double tolerance);

/// The same for a section. Its roots come from the edges themselves: they need no mending. `edges`:
/// where some lie in the plane they are part of the section, and what runs along them is not.
enum class PlaneEdges { none, some };
std::vector<LevelCurve> level_curves(const HeightField& field,
                                     const std::vector<BoundaryRoot>& roots, PlaneEdges edges,
                                     double tolerance);

}  // namespace planform::flatten
