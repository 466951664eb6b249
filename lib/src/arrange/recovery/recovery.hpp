#pragma once

/// Runs of chords become pieces of the exact curves again; corners become true intersections.

#include <cstdint>
#include <optional>
#include <unordered_map>
#include <vector>

#include "arrange/chains/loop.hpp"
#include "arrange/recovery/recovery_input.hpp"

namespace planform::arrange {

struct RecoveryResult {
    std::vector<Loop> loops;
    /// Carriers whose chords met where the curves don't: to be chorded finer, then all again.
    std::vector<int> refine;
    /// Set on the last try if a loop and its polygon still disagree: a point of that loop.
    std::optional<Point2> failed_at;
};

/// One loop by itself.
struct RecoveredLoop {
    Loop loop;
    std::vector<int> refine;  ///< carriers, as in RecoveryResult
    bool is_nothing;          ///< chords enclosed something where curves only touch
};
/// By a number for a loop's edges and the chords along them.
using RecoveredLoops = std::unordered_map<std::uint64_t, RecoveredLoop>;

/// `known`: what became of loops before, for those that have not changed; empty to begin with. Not
/// used on the last try.
RecoveryResult recover(const RecoveryInput& input, RecoveredLoops& known);

}  // namespace planform::arrange
