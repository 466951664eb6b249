#pragma once

/// Runs: the maximal stretches of a boundary loop along one carrier in one direction.

#include <vector>

#include "arrange/recovery/recovery_input.hpp"

namespace planform::arrange {

struct Run {
    int carrier;
    bool forward;  ///< along the carrier
    int tag;
    double begin;  ///< parameters on the carrier, begin > end where the run goes against it
    double end;
    bool begin_at_node;  ///< begins at an end of its piece, so the parameter is exact
    bool end_at_node;
    Point2 begin_vertex;  ///< where the arrangement put the corner
    Point2 end_vertex;
    Vector2 begin_edge;  ///< the first and the last edge of the polygon, in cells
    Vector2 end_edge;
    double begin_tolerance;  ///< of the first and the last chord, mm
    double end_tolerance;
    int begin_piece;  ///< of the carrier, on which the first and the last edge lie; -1: of another
    int end_piece;
};

/// The runs of a loop, head to tail; the last is followed by the first.
std::vector<Run> find_runs(const RecoveryInput& input, const BoundaryLoop& loop);

}  // namespace planform::arrange
