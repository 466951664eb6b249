#pragma once

/// What comes out of an arrangement: loops, or a failure with its place.

#include <string>
#include <vector>

#include "planform/curve.hpp"
#include "planform/error.hpp"

namespace planform::arrange {

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

/// Ends of lines and arcs that stay apart, so that none of them has to leave its line or circle: no
/// further than both of these.
struct KeptGaps {
    double widest = 0.0;           ///< mm
    double widest_per_size = 0.0;  ///< as a share of the loop's size
};

}  // namespace planform::arrange
