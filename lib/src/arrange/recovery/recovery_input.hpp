#pragma once

/// What curves are recovered from.

#include "arrange/chains/loop.hpp"
#include "arrange/chords/chording.hpp"
#include "arrange/sweep/boundary.hpp"

namespace planform::arrange {

struct RecoveryInput {
    const CarrierSet& set;
    const Chords& chords;
    const Boundary& boundary;
    const grid::Grid& grid;
    double tolerance;  ///< mm, of the result; on large inputs less than a thousand cells
    double finest;     ///< mm: chords that stray further from their curves are settled
    KeptGaps kept_gaps;
    bool
        last_try;  ///< take what is within the grid's resolution instead of asking for finer chords
};

}  // namespace planform::arrange
