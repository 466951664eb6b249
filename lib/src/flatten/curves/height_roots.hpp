#pragma once

/// Where does an edge pass through a height? No pair of roots is missed, however close.

#include <vector>

#include "solid/shape_graph.hpp"

namespace planform::flatten {

/// Ascending parameters strictly inside the edge at which its height over the datum passes through
/// `level`, changing side; found on lines and conics by closed forms, on splines by the signs of
/// their Bezier coefficients (variation diminishing: no root without a change of sign, one with
/// one; J. M. Lane, R. F. Riesenfeld, BIT 21 (1981)), on other curves by sampling.
std::vector<double> height_roots(const solid::GraphEdge& edge, double level);

/// The root between a and b, at which heights have different signs, to full precision.
double height_root_between(const solid::GraphEdge& edge, double level, double a, double b);

}  // namespace planform::flatten
