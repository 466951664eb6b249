#pragma once

/// Boundary chords that pass each other more closely than chords may stray from their curves.

#include <cstdint>
#include <vector>

#include "arrange/recovery/recovery_input.hpp"

namespace planform::arrange {

/// By segment, a number for the boundary edges along it.
using SeenEdges = std::vector<std::uint64_t>;

/// Curved carriers of boundary edges that come nearer to another edge than their chord tolerances
/// allow to tell apart, so that the curves might cross where the chords don't. Ascending, each
/// once.
///
/// `seen`: what of the chords was on the boundary when this was last asked, for the next time; two
/// that have not changed are not compared again. Empty to begin with.
std::vector<int> find_near_misses(const RecoveryInput& input, SeenEdges& seen);

}  // namespace planform::arrange
