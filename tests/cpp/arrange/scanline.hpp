#pragma once

/// A second, plain way to the area of the material: no grid, no graph, no loops.

#include <functional>

#include "arrange/arrange.hpp"

namespace planform::arrange::test {

/// Chords every curve within `chord` mm, cuts the plane into strips between all heights of vertices
/// and crossings, and adds up trapezoids of points that `inside` accepts. O(n^2). Exact but for
/// rounding if there are lines only, else within `chord` times the length of all curves.
double scanline_area(const Input& input, const std::function<bool(const Winding&)>& inside,
                     double chord);

}  // namespace planform::arrange::test
