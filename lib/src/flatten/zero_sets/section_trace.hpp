#pragma once

/// Sections of free-form surfaces, followed with predictor and corrector.

#include <vector>

#include "flatten/zero_sets/level_curve.hpp"
#include "flatten/zero_sets/level_field.hpp"

namespace planform::flatten {

/// The level curves of a height on a face whose surface has no closed form here. From each root
/// that starts one a curve is followed to the root that ends it. Loops that close inside the face
/// are found by bounds where the surface is a spline (see section_seeds), so that none is missed
/// however small, else on a grid. Splines within `tolerance` mm. Throws
/// GeometryError(face_not_flattened).
std::vector<LevelCurve> trace_section(const HeightField& field,
                                      const std::vector<BoundaryRoot>& roots, double tolerance);

}  // namespace planform::flatten
