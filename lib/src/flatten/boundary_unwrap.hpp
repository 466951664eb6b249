#pragma once

/// The boundary of a face on a periodic surface, in one piece.

#include <span>
#include <vector>

#include "flatten/face_surface.hpp"

namespace planform::flatten {

/// Moves curves by whole periods (0: not periodic), so that each loop of the boundary runs on from
/// curve to curve without a jump, and loops lie within the box of the widest: real files give some
/// curves of a face a period away from the others. A curve that fits as it stands is not moved.
/// `uses` tells in which direction each curve is run. True if any was moved.
bool unwrap_boundary(std::vector<ParameterCurve>& boundary, std::span<const EdgeUse> uses,
                     const Vector2& periods);

}  // namespace planform::flatten
