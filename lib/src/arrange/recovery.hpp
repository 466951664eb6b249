#pragma once

/// Runs of chords become pieces of the exact curves again; corners become true intersections.

#include <optional>
#include <vector>

#include "arrange/boundary.hpp"
#include "arrange/chording.hpp"

namespace planform::arrange {

struct RecoveryInput {
    const CarrierSet& set;
    const Chords& chords;
    const Boundary& boundary;
    const Grid& grid;
    double fine;  ///< mm: chords that stray further from their curves are settled
    bool
        last_try;  ///< take what is within the grid's resolution instead of asking for finer chords
};

struct RecoveryResult {
    std::vector<Loop> loops;
    /// Carriers whose chords met where the curves don't: to be chorded finer, then all again.
    std::vector<int> refine;
    /// Set on the last try if a loop and its polygon still disagree: a point of that loop.
    std::optional<Point2> failed_at;
};

RecoveryResult recover(const RecoveryInput& input);

}  // namespace planform::arrange
