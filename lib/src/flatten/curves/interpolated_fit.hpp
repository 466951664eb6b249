#pragma once

/// A smooth plane curve that is known by its points alone becomes a spline.

#include <functional>
#include <vector>

#include "planform/curve.hpp"

namespace planform::flatten {

/// Degree-5 pieces through points of the curve at the nodes of Chebyshev and Lobatto, halved until
/// they agree with it between the nodes within `tolerance` mm; a circle or line within that comes
/// out as one. Runs from `from` to `to`, which may be smaller. Source of the nodes: L. N.
/// Trefethen, "Approximation Theory and Approximation Practice", SIAM 2013, chapter 2 (from
/// memory).
std::vector<Curve> fit_interpolated(const std::function<Point2(double)>& point, double from,
                                    double to, double tolerance);

}  // namespace planform::flatten
