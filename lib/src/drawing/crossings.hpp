#pragma once

#include <vector>

#include "planform/drawing.hpp"

namespace planform::drawing {

/// Where contours cross themselves or each other. Curves that meet at their ends, touch, or pass
/// over each other by no more than `apart` mm don't cross. Sources as in `chains`.
std::vector<CrossedCurves> find_crossings(const std::vector<ClosedChain>& chains, double apart);

}  // namespace planform::drawing
