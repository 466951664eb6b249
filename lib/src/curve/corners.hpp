#pragma once

/// Corners and cusps of splines, and tangents that stay defined where the derivative is zero.

#include <vector>

#include "planform/curve.hpp"

namespace planform::detail {

/// Unit tangents of a curve at a parameter, coming and going.
struct Tangents {
    Vector2 before;
    Vector2 after;
};
Tangents tangents_at(const Curve& curve, double t);

/// Ascending parameters strictly inside the domain where the direction of a curve jumps: knots of
/// multiplicity >= degree, and cusps. Empty for all but splines.
std::vector<double> corner_parameters(const Curve& curve);

}  // namespace planform::detail
