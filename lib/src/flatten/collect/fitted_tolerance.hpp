#pragma once

/// A tolerance against the size of the solids.

#include <span>

#include "planform/model.hpp"

namespace planform::flatten {

/// As fit_tolerance() for the box of all solids, which is only measured if corners don't tell that
/// it is large enough.
double fitted_tolerance(std::span<const Solid> solids, double tolerance);

}  // namespace planform::flatten
