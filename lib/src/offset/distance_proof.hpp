#pragma once

/// The proof of an offset: distances to the exact outlines, which no way of making it asks.

#include <optional>
#include <string>
#include <vector>

#include "offset/moved.hpp"

namespace planform::offset_detail {

/// Where a law is broken, and which.
struct Breach {
    Point2 place;
    std::string law;
};

/// Holds moved loops against two laws, at places that lie all along, up to `slack` mm:
///
/// 1. *Nothing lies off its distance*: no place of the result is nearer to the outlines than they
///    are moved, none is further, and none is on the other side.
/// 2. *Nothing is missing*: a place beside an outline, at its distance along the normal or a
///    corner's bisector, beyond which no outline is nearer, lies on the result.
///
/// Exact for one distance and round corners. With others the result may be nearer, and further up
/// to the limit; the second law is asked there beside curves that have nothing else within the
/// limit.
///
/// Of results that went through the arrangement 500 curves and an eighth of the rest are asked,
/// evenly, and every contour for the second law; of others, which cost less than such a proof, 16
/// and a thirty-second. A place costs O(log n).
std::optional<Breach> breach_of(const Source& source, const LoopStyle& style, const Moved& moved,
                                double slack);

}  // namespace planform::offset_detail
