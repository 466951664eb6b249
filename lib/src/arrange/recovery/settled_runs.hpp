#pragma once

/// The runs of a loop with their corners, without those that turn out to be nothing.

#include <vector>

#include "arrange/recovery/runs.hpp"

namespace planform::arrange {

struct SettledRuns {
    std::vector<Run> runs;  ///< head to tail; none if nothing is left of the loop
    /// Carriers whose chords met where the curves don't: corners have passed each other, or the
    /// curves gape at one, by more than the grid's resolution. Empty if all is well.
    std::vector<int> suspects;
    /// Carriers whose runs come out longer than all pieces of them: chords hid a curve there that
    /// comes between. Empty if all is well, and on the last try.
    std::vector<int> overreaching;
};

/// `runs`: those of one loop as `find_runs` gives them.
SettledRuns settled_runs(const RecoveryInput& input, std::vector<Run> runs);

}  // namespace planform::arrange
