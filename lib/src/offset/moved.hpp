#pragma once

/// From outlines and distances to the moved outlines.

#include <memory>
#include <vector>

#include "offset/source.hpp"

namespace planform::offset_detail {

/// A contour of the result, material to its left.
struct MovedLoop {
    RawLoop loop;
    bool is_hole;
    int parent;  ///< of a hole its outer loop; of an outer loop the one in whose hole it lies; or
                 ///< -1
};

struct Moved {
    std::vector<MovedLoop> loops;
    /// Their curves, if each chain became one loop by itself: in their order.
    std::shared_ptr<const LoopField> field;
    bool has_short_bands = false;  ///< something rests on what bounds say of other bands
};

/// Moves all chains. Contours whose raw loops are simple and keep off all others are the result as
/// they are; those that meet each other or themselves are arranged, group by group, within
/// `resolution` (mm). With `apart` false nothing is told apart: all are arranged together.
Moved moved_loops(const Source& source, const LoopStyle& style, double resolution,
                  bool apart = true);

}  // namespace planform::offset_detail
