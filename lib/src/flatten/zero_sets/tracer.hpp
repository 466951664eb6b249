#pragma once

/// Zero sets without a closed form, traced by predictor and corrector.

#include <vector>

#include "flatten/zero_sets/level_curve.hpp"
#include "flatten/zero_sets/level_field.hpp"

namespace planform::flatten {

/// Level curves of a field on any smooth surface: from every starting root along the zero set to an
/// ending root; then loops that close inside the face, searched on a grid of samples. Splines
/// within `tolerance` mm of the true curves on the datum. Throws GeometryError(face_not_flattened)
/// if a trace meets no root.
std::vector<LevelCurve> trace_level_curves(const FacingField& field,
                                           const std::vector<BoundaryRoot>& roots,
                                           double tolerance);

}  // namespace planform::flatten
