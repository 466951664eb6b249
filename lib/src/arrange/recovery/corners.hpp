#pragma once

/// Corners: the true common point of two runs that follow each other.

#include "arrange/recovery/runs.hpp"

namespace planform::arrange {

struct Corner {
    double end;     ///< parameter of the run before
    double begin;   ///< parameter of the run after
    double gap;     ///< mm between the two points
    bool is_exact;  ///< the gap is no more than rounding
    bool at_node;   ///< both end at the input's own nodes: the gap is the input's, too
};

/// Distance in mm below which two curves can't be told apart on the grid: chords at their finest
/// and the rounding of their ends on both sides.
double resolution(const grid::Grid& grid);

/// A node of the input, a crossing, a point of tangency, or else the places on both nearest to
/// where the chords met; in that order.
Corner find_corner(const RecoveryInput& input, const Run& before, const Run& after);

}  // namespace planform::arrange
