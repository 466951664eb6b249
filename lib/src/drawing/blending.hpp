#pragma once

#include <optional>

#include "planform/curve.hpp"

namespace planform::drawing {

/// The curve between two loose ends that the ends themselves ask for: from the end of `before` to
/// the start of `after`. Nothing if they ask for none (a straight piece is as good, or the ends say
/// nothing about each other).
///
/// Measured is whether directions and curvatures at the ends fit a curvature that changes steadily
/// along the gap. If they do at both ends, the piece has both tangents and both curvatures; if at
/// one end only, it is the conic with both tangents and the curvature of that end; if the curves
/// meet in a corner, the circular arc that goes on from the end whose curvature it has.
std::optional<Curve> blended(const Curve& before, const Curve& after);

}  // namespace planform::drawing
