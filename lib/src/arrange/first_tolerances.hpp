#pragma once

/// How finely each carrier is chorded at first.

#include <vector>

#include "arrange/carriers.hpp"

namespace planform::arrange {

/// Chord tolerances in mm, by carrier: `fine`, but for whole circles that nothing comes near. Such
/// a circle is an octagon to the arrangement: chords decide the topology only, and neither it nor
/// anything else can change that as long as its neighbours keep off by more than both stray. Most
/// holes of most parts are of this kind.
std::vector<double> first_tolerances(const CarrierSet& set, double fine);

}  // namespace planform::arrange
