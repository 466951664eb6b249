#pragma once

#include <vector>

#include "grid/box_tree.hpp"
#include "planform/geometry.hpp"

namespace planform::grid {

/// The map from boxes of the plane (mm) to those of a BoxTree, rounded outwards: boxes that overlap
/// do so on the grid, too. Finer than the grid of the arrangement, as it serves for searching only.
class BoxGrid {
  public:
    /// Covers all boxes; what lies beyond them is cut off there.
    explicit BoxGrid(const std::vector<Box2>& boxes);

    GridBox operator()(const Box2& box) const;
    std::vector<GridBox> operator()(const std::vector<Box2>& boxes) const;

    /// Of a place, and of a distance, in steps of the grid; not rounded and not cut off.
    Point2 place(const Point2& point) const { return (point - low_) * scale_; }
    double length(double distance) const { return distance * scale_; }

  private:
    Point2 low_;
    double scale_;
};

}  // namespace planform::grid
