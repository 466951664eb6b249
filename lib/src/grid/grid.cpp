#include "grid/grid.hpp"

#include <algorithm>
#include <cmath>

namespace planform::grid {

Grid::Grid(const Box2& box, double cell) : center_(box.center()) {
    const double half_extent = 0.5 * box.sizes().maxCoeff();
    cell_ = std::max(cell, half_extent / (largest - 2.0));
}

GridPoint Grid::snap(const Point2& point) const {
    return {static_cast<std::int64_t>(std::floor((point.x() - center_.x()) / cell_ + 0.5)),
            static_cast<std::int64_t>(std::floor((point.y() - center_.y()) / cell_ + 0.5))};
}

Point2 Grid::position(const GridPoint& point) const {
    return center_ + cell_ * Point2(static_cast<double>(point.x), static_cast<double>(point.y));
}

}  // namespace planform::grid
