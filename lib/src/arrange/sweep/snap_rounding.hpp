#pragma once

/// Snap rounding: many segments with integer ends become a planar graph with integer vertices.

#include <cstdint>
#include <vector>

#include "grid/grid.hpp"

namespace planform::arrange {

struct GridSegment {
    grid::GridPoint start;
    grid::GridPoint end;
};

/// One stretch of a segment between neighbouring vertices of the graph.
struct GraphEdge {
    std::int32_t from;     ///< vertex, in the direction of the segment
    std::int32_t to;       ///< vertex
    std::int32_t segment;  ///< index of the segment
};

/// Vertices in lexicographic order; edges meet in vertices only. Edges that several segments share
/// appear once for each of them.
struct PlanarGraph {
    std::vector<grid::GridPoint> vertices;
    std::vector<GraphEdge> edges;  ///< by segment, along each segment
};

/// Every end and every crossing, rounded to the grid, is a vertex; a segment that passes through
/// the unit square about a vertex (left and lower side included) is led through the vertex. Then no
/// two edges cross and none passes through a vertex. A segment moves by at most 0.71 grid cells.
/// Source: J. D. Hobby, "Practical segment intersection with finite precision output",
/// Computational Geometry 13 (1999).
PlanarGraph snap_round(const std::vector<GridSegment>& segments);

/// The graph of some segments with a few of them replaced. `taken_out` tells by segment of the old
/// graph whether it goes; the segments that follow those are new. Only what lies beside the new
/// ones is looked at again: an edge that comes near none of them already meets the others in
/// vertices only. Where an old edge beside them is led elsewhere and comes upon one that was left,
/// that one is looked at again, too. Each time a segment moves by up to 0.71 cells more; the edges
/// are in no order.
PlanarGraph snap_round_again(const PlanarGraph& graph, const std::vector<GridSegment>& segments,
                             const std::vector<char>& taken_out);

/// The graph of those segments that are not taken out, from the start.
PlanarGraph snap_round_without(const std::vector<GridSegment>& segments,
                               const std::vector<char>& taken_out);

}  // namespace planform::arrange
