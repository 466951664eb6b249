#pragma once

/// The law of the two sides: a shadow seen from behind is its mirror image.

#include "planform/datum.hpp"
#include "planform/profile.hpp"

namespace planform::proof {

/// The datum seen from behind: x is kept, y and the normal are turned.
Datum seen_from_behind(const Datum& datum);

/// Holds a shadow against that on the datum seen from behind, which other faces make. Returns their
/// difference in area over the length of the outline, mm. Throws GeometryError (law_broken) if that
/// is more than the tolerance.
double check_two_sides(const ProfileSet& front, const ProfileSet& behind);

}  // namespace planform::proof
