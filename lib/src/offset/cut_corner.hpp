#pragma once

/// Parallels of one distance that cross beside their corner, cut off there.

#include <optional>
#include <utility>

#include "offset/corner.hpp"

namespace planform::offset_detail {

/// The curves before and after a corner up to and from where they cross, for bands of one distance
/// that overlap and curves of any kind that end (start) at the parallel points of the corner.
/// Nothing if the crossing is not found next to the corner, or if what is cut off, with the corner
/// itself, is not a simple loop that both bands hold.
std::optional<std::pair<Curve, Curve>> cut_at_crossing(const Corner& corner, double distance,
                                                       const Curve& before, const Curve& after);

}  // namespace planform::offset_detail
