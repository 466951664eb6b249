#pragma once

/// Boundary chords that pass each other more closely than chords may stray from their curves.

#include <vector>

#include "arrange/recovery.hpp"

namespace planform::arrange {

/// Curved carriers of boundary edges that come nearer to another edge than their chord tolerances
/// allow to tell apart, so that the curves might cross where the chords don't. Ascending, each
/// once.
std::vector<int> find_near_misses(const RecoveryInput& input);

}  // namespace planform::arrange
