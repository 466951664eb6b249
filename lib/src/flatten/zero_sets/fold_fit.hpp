#pragma once

/// From points along a zero set to curves on the datum.

#include <vector>

#include "flatten/zero_sets/zero_set.hpp"
#include "planform/curve.hpp"

namespace planform::flatten {

/// Curves head to tail along the zero set through the points of `path` (scaled, on or next to the
/// zero set): a cubic spline with the zero set's tangents, refined until it is within `tolerance`
/// mm of it; straight pieces where the zero set can't be found between two points, or wobbles.
std::vector<Curve> fit_path(const ZeroSet& zero_set, const std::vector<Point2>& path,
                            double tolerance);

}  // namespace planform::flatten
