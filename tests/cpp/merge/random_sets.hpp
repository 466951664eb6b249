#pragma once

/// Seeded random profile sets that coincide a lot: their outlines lie on a lattice and are used
/// again.

#include <cstdint>
#include <utility>

#include "planform/profile.hpp"

namespace sets {

/// Two sets in the same plane, some 60 mm wide, of lines, arcs, ellipses and splines. The second
/// one repeats outlines of the first, moved along the lattice or not at all, and pieces that a
/// boolean has cut. Every other pair is turned by some angle.
std::pair<planform::ProfileSet, planform::ProfileSet> random_pair(std::uint32_t seed);

}  // namespace sets
