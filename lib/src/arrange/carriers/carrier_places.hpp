#pragma once

/// Places along a carrier at which it is compared with another one.

#include <vector>

#include "arrange/carriers/carriers.hpp"

namespace planform::arrange {

/// Parameters from `from` to `to`, both among them, descending if `from` is greater: `count` steps,
/// in each span of a spline if it has several, since whatever a spline does within one span is
/// unknown to the others.
std::vector<double> places_along(const Carrier& carrier, double from, double to, int count);

}  // namespace planform::arrange
