#pragma once

/// Starts of stops in the cells of a grid, for the nearest of those that are left.

#include <vector>

#include "planform/plan.hpp"

namespace planform::planning {

class StartGrid {
  public:
    explicit StartGrid(const std::vector<Stop>& stops);

    /// The stop is looked over until it is put back.
    void remove(int stop);
    void restore(int stop);
    /// The nearest that are left, at most `count`; of equally near ones the lower index.
    std::vector<int> nearest(const Point2& point, int count) const;

  private:
    struct Cell {
        int column;
        int row;
    };
    Cell cell_of(const Point2& point) const;
    std::vector<int>& stops_in(const Cell& cell);
    const std::vector<int>& stops_in(const Cell& cell) const;

    const std::vector<Stop>& stops_;
    Point2 low_;
    double size_ = 1.0;
    int columns_ = 1;
    int rows_ = 1;
    std::vector<std::vector<int>> cells_;
};

}  // namespace planform::planning
