#pragma once

#include "arrange/carriers/carriers.hpp"

namespace planform::arrange {

/// A spline that leaves a corner the wrong way, turns within `reach` (mm) of it and comes by again:
/// the parameter of its last pass by the corner; else `corner` itself. `other_end` is where the run
/// ends. Folds have such cusps in projection; the spike between the passes is below the resolution.
double past_spike(const Carrier& carrier, double corner, double other_end, double reach);

}  // namespace planform::arrange
