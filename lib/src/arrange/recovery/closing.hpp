#pragma once

#include "arrange/chains/loop.hpp"
#include "grid/grid.hpp"

namespace planform::arrange {

/// Each curve of the loop begins where the one before it ends. Lines and splines take the exact end
/// of their neighbour. Of two arcs that stop further than a rounding apart, as arcs of a model do
/// whose ends are only near each other, one is laid through the other's end with its own radius; a
/// straight piece of that size goes in where that can't be. Gaps that are kept stay as they are.
void close_gaps(Loop& loop, const grid::Grid& grid, const KeptGaps& kept = {});

}  // namespace planform::arrange
