#pragma once

/// Pieces that are one, though their carriers aren't.

#include "arrange/carriers/carriers.hpp"

namespace planform::arrange {

/// Pieces between the same two nodes that stay within `same` mm of each other become one piece, on
/// the simplest of their carriers; what they add to the winding number is added up. A spline and a
/// part that was trimmed from it are of this kind, once they are split at each other's ends.
void unite_coincident(CarrierSet& set, double same);

}  // namespace planform::arrange
