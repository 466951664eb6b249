#pragma once

#include <span>
#include <vector>

#include "planform/drawing.hpp"

namespace planform::drawing {

/// By point: how many contours lie around it. Points on a contour count as either.
std::vector<int> depths_at(std::span<const Point2> points, std::span<const Contour> contours);

}  // namespace planform::drawing
