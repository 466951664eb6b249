#pragma once

/// The knots of a spline in one direction, and its polynomial pieces in Bezier form.

#include <cstddef>
#include <vector>

#include "planform/curve.hpp"

namespace planform::flatten {

/// Of the two parameters of a surface.
enum class Parameter { u, v };

/// Flat knots, and the part of the parameters that is wanted of them.
struct SplineDirection {
    int degree = 0;
    std::vector<double> knots;
    double low = 0.0, high = 0.0;

    /// Indices k of the spans [knots k, k + 1] that meet low..high.
    std::vector<int> spans() const;
    double knot(int k) const { return knots[static_cast<std::size_t>(k)]; }
    Interval clipped(int k) const;
    /// Row i: the weights of the span's degree + 1 poles (k - degree to k) in pole i of its Bezier
    /// form on the interval.
    std::vector<std::vector<double>> to_bezier(int k, const Interval& part) const;
};

}  // namespace planform::flatten
