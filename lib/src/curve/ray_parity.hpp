#pragma once

/// Inside or outside by the parity of the sides that a ray crosses (M. Shimrat, Communications of
/// the ACM 5 (1962), algorithm 112).

#include <cstddef>
#include <vector>

#include "planform/geometry.hpp"

namespace planform::detail {

/// True if the ray from the place along +x crosses the side from a to b. A place is inside if an
/// odd number of sides is crossed; on a side, or within rounding of one, either may come out.
inline bool ray_crosses(const Point2& place, const Point2& a, const Point2& b) {
    if ((a.y() > place.y()) == (b.y() > place.y())) return false;
    return place.x() < a.x() + (place.y() - a.y()) / (b.y() - a.y()) * (b.x() - a.x());
}

/// How many sides of a closed polygon the ray crosses.
inline int ray_crossings(const Point2& place, const std::vector<Point2>& polygon) {
    int crossings = 0;
    for (std::size_t i = 0; i < polygon.size(); ++i)
        crossings += ray_crosses(place, polygon[i], polygon[(i + 1) % polygon.size()]) ? 1 : 0;
    return crossings;
}

}  // namespace planform::detail
