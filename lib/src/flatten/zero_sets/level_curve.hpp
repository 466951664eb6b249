#pragma once

/// What a zero set is made of: pieces of curves from root to root of the face's boundary.

#include <optional>
#include <vector>

#include "planform/curve.hpp"
#include "planform/geometry.hpp"

namespace planform::flatten {

/// Where the zero set crosses the boundary of the face.
struct BoundaryRoot {
    bool starts;  ///< a level curve starts here (going round, + turns into -), else one ends here
    int node;     ///< of the arrangement
    Point2 uv;    ///< on the boundary
    Point2 inner_uv;  ///< a little inside the face, on the zero set where that can be had
};

/// A directed piece of the zero set, positive side on the left seen from outside the solid.
struct LevelCurve {
    std::vector<Curve> curves;  ///< head to tail, on the datum
    int start_node;             ///< -1: the curve closes on itself, or meets others in the face
    int end_node;
    /// Of a piece without curves, which is a point on the datum: where an end without a node lies.
    std::optional<Point2> place = {};
};

}  // namespace planform::flatten
