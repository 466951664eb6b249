#pragma once

/// Chords that are told how far their curve strays from them, in distance and in direction.

#include <vector>

#include "planform/curve.hpp"

namespace planform::detail {

struct BoundedChord {
    double last;       ///< parameter at its end; it begins where the one before ends
    double deviation;  ///< bound on its distance from the curve, mm
    double sine;  ///< bound on the sine of the angle between it and the curve; 1: none is known
};

/// Chords from the begin of the curve's domain to its end. Each is within `tolerance` (mm) of its
/// curve, or turns from it by an angle whose sine is at most `most_sine`; the longest that halving
/// finds.
std::vector<BoundedChord> bounded_chords(const Curve& curve, double tolerance, double most_sine);

}  // namespace planform::detail
