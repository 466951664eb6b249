#pragma once

/// Where curves touch: a node on another curve, or two circles or a line and a circle that are
/// tangent.

#include "arrange/carriers/carriers.hpp"

namespace planform::arrange {

/// Splits pieces where a node of another lies within `same` mm of them, and lines and circles where
/// they touch within that. So a touch becomes a common node, and does not depend on how chords and
/// their ends are rounded.
void split_at_touches(CarrierSet& set, double same);

}  // namespace planform::arrange
