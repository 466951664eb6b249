#pragma once

/// From the planar graph to the loops that part inside from outside.

#include <cstdint>
#include <functional>
#include <vector>

#include "arrange/sweep/snap_rounding.hpp"
#include "arrange/sweep/winding_sweep.hpp"

namespace planform::arrange {

/// A directed edge of the boundary, inside on its left, with the stretches of segments along it.
struct BoundaryEdge {
    std::int32_t from;
    std::int32_t to;
    std::int32_t first_stretch;  ///< into Boundary::stretches
    std::int32_t last_stretch;   ///< one past
};

/// A segment that runs along a boundary edge.
struct Stretch {
    std::int32_t segment;
    bool along;  ///< the segment has the direction of the boundary edge
};

struct BoundaryLoop {
    std::vector<std::int32_t> edges;  ///< into Boundary::edges, head to tail
    bool hole = false;
    int parent = -1;  ///< as Loop::parent
};

struct Boundary {
    std::vector<grid::GridPoint> vertices;
    std::vector<BoundaryEdge> edges;
    std::vector<Stretch> stretches;
    std::vector<BoundaryLoop> loops;
};

/// A number that tells an edge from others by its place: the same ends, the same number.
std::uint64_t mark_of(const Boundary& boundary, const BoundaryEdge& edge);
/// Goes on from one such number with another value.
std::uint64_t mixed(std::uint64_t mark, std::uint64_t value);

/// The edges between inside and outside, not yet as loops. `weights[i]` is what segment i adds to
/// the winding number on its left. Throws NotPlanar where edges meet elsewhere than in vertices.
Boundary find_boundary(const PlanarGraph& graph, const std::vector<Winding>& weights,
                       const std::function<bool(const Winding&)>& inside);

/// Puts the edges together to loops, each in what it lies in.
void find_loops(Boundary& boundary);

}  // namespace planform::arrange
