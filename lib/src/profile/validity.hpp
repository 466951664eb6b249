#pragma once

/// Proofs that contours bound an area as they should, by the arrangement's winding numbers.

#include <vector>

#include "planform/profile.hpp"

namespace planform::detail {

/// Throws GeometryError (contour_without_area, contour_crosses_itself) with the place.
void require_simple(const Contour& contour);

/// Throws GeometryError (hole_not_inside, holes_overlap) with the number of the hole and the place.
/// `outer` runs counter-clockwise, the holes clockwise.
void require_holes_inside(const Contour& outer, const std::vector<Contour>& holes);

}  // namespace planform::detail
