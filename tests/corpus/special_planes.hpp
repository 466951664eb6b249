#pragma once

/// Planes that sections find hard.

#include <string>
#include <utility>
#include <vector>

#include "planform/datum.hpp"
#include "planform/model.hpp"

namespace corpus {

/// Five planes that meet the solid's box: two in general position; one through the axis and the
/// seam of its largest surface of revolution (without one: through the whole of its longest
/// straight edge); one exactly through a vertex; one that is tangent to its largest curved face in
/// the middle (without one: in its largest flat face). The same solid gives the same planes.
std::vector<std::pair<std::string, planform::Datum>> special_planes(const planform::Solid& solid);

}  // namespace corpus
