#pragma once

/// Parallel curves of ellipses and splines as splines of degree 5.

#include <cstddef>
#include <vector>

#include "offset/smooth_curve.hpp"

namespace planform::offset_detail {

/// A part of one stretch.
struct FitRange {
    std::size_t stretch;
    double from;
    double to;
};

/// The parallel of a curve at `e` mm to its right over ranges that follow each other, within
/// `bound` mm, with the parallel's own ends, directions and steadiness at all joints. One spline;
/// nothing for no ranges. A line or an arc if the
/// ranges are a part of the curve and it is one within a thousandth of the bound.
std::vector<Curve> fitted_parallel(const SmoothCurve& curve, double e,
                                   const std::vector<FitRange>& ranges, double bound);

}  // namespace planform::offset_detail
