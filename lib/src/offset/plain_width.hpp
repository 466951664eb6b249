#pragma once

/// The width of contours that are too plain for a medial axis.

#include <optional>

#include "planform/inspect.hpp"
#include "planform/profile.hpp"

namespace planform::offset_detail {

/// The narrowest place inside a circle, a rectangle, or a slot with round ends (in the middle of
/// its length), in mm; nothing for other contours.
std::optional<NarrowPlace> plain_width(const Contour& contour);

}  // namespace planform::offset_detail
