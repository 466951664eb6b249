#pragma once

/// A sweep over a planar graph: what lies below each edge, and the winding numbers on its two
/// sides.

#include <cstdint>
#include <vector>

#include "arrange/chains/input.hpp"
#include "grid/grid.hpp"

namespace planform::arrange {

/// An edge of the planar graph with all that runs along it added up. `left` < `right`
/// lexicographically; `weight` is how much the winding number above (to the left, seen from `left`
/// to `right`) exceeds that below.
struct SweepEdge {
    std::int32_t left;
    std::int32_t right;
    Winding weight;
};

struct SweepResult {
    std::vector<Winding> below;            ///< winding number below each edge
    std::vector<std::int32_t> edge_below;  ///< the edge next below when the edge enters, or -1
};

/// Thrown where edges meet elsewhere than in a vertex: then no winding number is right.
struct NotPlanar {
    grid::GridPoint place;  ///< a vertex nearby
};

/// Edges may meet in vertices only and must be sorted by `left`. O(n log n), exact. Throws
/// NotPlanar where it comes upon edges that lie on each other.
SweepResult sweep(const std::vector<grid::GridPoint>& vertices,
                  const std::vector<SweepEdge>& edges);

}  // namespace planform::arrange
