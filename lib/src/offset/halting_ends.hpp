#pragma once

/// Splines that come to a halt at an end.

#include <vector>

#include "planform/curve.hpp"

namespace planform::offset_detail {

/// The spline, but for stretches at its ends in which it is so slow that rounding decides where it
/// heads: they are straight. A parallel curve multiplies what the direction is off by its distance,
/// and would follow rounding to and fro there. Such ends are those of parallel curves that end in a
/// cusp, and of splines whose last poles coincide or nearly do.
///
/// `distance`: mm to the parallel curve. `bound`: mm that rounding may take it off, and that a
/// straight stretch may be long at most.
std::vector<Curve> with_straight_halts(const Spline& spline, double distance, double bound);

}  // namespace planform::offset_detail
