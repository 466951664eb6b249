#pragma once

/// What is arranged: closed chains of directed curves.

#include <array>
#include <vector>

#include "planform/curve.hpp"

namespace planform::arrange {

/// Winding numbers of a point, one an operand.
using Winding = std::array<int, 2>;

/// A directed curve of the input.
struct DirectedCurve {
    Curve curve;
    int start_node = 0;  ///< index into Input::nodes; must be next to the curve's start
    int end_node = 0;    ///< index into Input::nodes; must be next to the curve's end
    int weight = 1;      ///< the winding number to the left is higher by this than to the right
    int operand = 0;     ///< 0 or 1
    int tag = 0;         ///< the caller's; comes back with each piece
};

/// Closed chains: at every node the weights that come in equal those that go out, for each operand.
/// Nodes, not coordinates, say which ends meet: so chains stay closed whatever the rounding.
struct Input {
    std::vector<Point2> nodes;
    std::vector<DirectedCurve> curves;
};

}  // namespace planform::arrange
