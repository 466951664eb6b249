#pragma once

/// Profile sets of parallel planes in the coordinates of one of them.

#include "planform/profile.hpp"

namespace planform::merge {

/// The set in the coordinates of `datum`, seen along its normal; the same curves to the bit if the
/// frames agree to rounding. Throws GeometryError (invalid_argument) if the planes are not parallel
/// or face each other.
ProfileSet placed_on(const ProfileSet& set, const Datum& datum);

}  // namespace planform::merge
