#pragma once

/// Moved outlines that have been proven.

#include <vector>

#include "offset/moved.hpp"

namespace planform::offset_detail {

/// As moved_loops, and held against the laws of distance_proof.hpp. What breaks one is made anew,
/// with all contours arranged together, then turned and on a finer grid besides. Throws
/// GeometryError (law_broken) with law and place if that does not keep them either.
std::vector<MovedLoop> proven_loops(const Source& source, const LoopStyle& style,
                                    double resolution);

}  // namespace planform::offset_detail
