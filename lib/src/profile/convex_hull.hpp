#pragma once

/// The convex hull of points.

#include <vector>

#include "planform/geometry.hpp"

namespace planform::detail {

/// Its corners, counter-clockwise.
std::vector<Point2> convex_hull(std::vector<Point2> points);

}  // namespace planform::detail
