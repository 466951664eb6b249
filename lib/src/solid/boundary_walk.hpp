#pragma once

/// The walk round a face: which use of an edge comes after which.

#include <cstddef>
#include <vector>

#include "planform/geometry.hpp"

namespace planform::solid {

/// Where the walk round a face enters or leaves a use of an edge.
struct WalkEnd {
    int vertex;
    Point2 uv;  ///< in the face's parameters
};

struct WalkedUse {
    WalkEnd entry, exit;
};

/// For each use the one at which the walk goes on: at the same vertex, the one whose entry lies
/// next to this one's exit in the parameter plane, both measured as shares of `range` (as they
/// stand; a period away only if there is no other). Each use follows one other. Throws
/// GeometryError(face_not_flattened) if the uses don't close.
std::vector<std::size_t> next_in_walk(const std::vector<WalkedUse>& uses, const Vector2& range);

}  // namespace planform::solid
