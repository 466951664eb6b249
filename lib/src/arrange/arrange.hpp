#pragma once

/// The heart: the union (or any other boolean) of many closed chains of curves.
///
/// The way: same curves are found and added up (carriers), each is chorded once, the chords are
/// snap rounded on an integer grid, winding numbers are found by a sweep, the boundary between
/// inside and outside is traced into loops, and runs of chords become pieces of the exact curves
/// again. No Open CASCADE here: this floor is tested, fuzzed and timed alone.

#include <array>
#include <functional>
#include <string>
#include <vector>

#include "planform/curve.hpp"
#include "planform/error.hpp"

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

struct Options {
    /// Bound in mm on the distance between the true boundary and the result.
    double tolerance = 0.01;
    /// Which winding numbers are material. Default: the first operand's is positive.
    std::function<bool(const Winding&)> inside = [](const Winding& w) { return w[0] > 0; };
};

/// One closed loop of the boundary, material on its left: outer loops run counter-clockwise, holes
/// clockwise. Free of self-crossing; may touch itself or others in points.
struct Loop {
    std::vector<Curve> curves;
    std::vector<int> tags;  ///< one a curve
    bool hole = false;
    /// Hole: index of the outer loop it belongs to. Outer: index of the outer loop in whose hole it
    /// lies, or -1.
    int parent = -1;
};

/// A failure of arrange() and where it is.
class ArrangementError : public GeometryError {
  public:
    ArrangementError(const std::string& message, const Point2& place)
        : GeometryError(ErrorKind::contour_not_closed, message), place_(place) {}
    const Point2& place() const { return place_; }

  private:
    Point2 place_;
};

/// The boundary of the material as exact curves. Deterministic: same input, same output, whatever
/// the order of the curves and the numbers of the nodes. Throws ArrangementError
/// (contour_not_closed) if the input's weights don't balance at a node (the message gives the
/// place), invalid_argument for a bad tolerance or coordinates that are not finite.
std::vector<Loop> arrange(const Input& input, const Options& options = {});

}  // namespace planform::arrange
