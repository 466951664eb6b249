#pragma once

/// Curves that run side by side for long, such as the turns of a spring seen along its axis.

#include <vector>

#include "arrange/carriers/carriers.hpp"

namespace planform::arrange {

/// Where pieces of certain splines (`is_strand`, by carrier) run along each other within `near` mm
/// for long, one takes the place of the others, and what these add to the winding number is added
/// to it. Chains stay closed: lines of a few times `near` lead over to the curve that takes the
/// place of another. False if the chains then enclose something else than before, but for the
/// strips that strands were moved over: the set is of no use then.
bool unite_strands(CarrierSet& set, const std::vector<char>& is_strand, double near);

}  // namespace planform::arrange
