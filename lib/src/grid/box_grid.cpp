#include "grid/box_grid.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>

namespace planform::grid {
namespace {

/// Steps over the longer side of what is covered.
constexpr double steps = 0x1p30;

}  // namespace

BoxGrid::BoxGrid(const std::vector<Box2>& boxes) {
    Box2 all;
    for (const Box2& box : boxes) all.extend(box);
    low_ = all.min();
    // Where all boxes are one place, lengths on the grid can still be squared.
    scale_ = steps / std::max(all.sizes().maxCoeff(), 1e-100);
}

GridBox BoxGrid::operator()(const Box2& box) const {
    const Vector2 low = ((box.min() - low_) * scale_).array().floor();
    const Vector2 high = ((box.max() - low_) * scale_).array().ceil();
    const auto whole = [](double value) {
        return static_cast<std::int32_t>(std::clamp(value, -1.0, steps + 1.0));
    };
    return {whole(low.x()), whole(low.y()), whole(high.x()), whole(high.y())};
}

std::vector<GridBox> BoxGrid::operator()(const std::vector<Box2>& boxes) const {
    std::vector<GridBox> result;
    result.reserve(boxes.size());
    for (const Box2& box : boxes) result.push_back((*this)(box));
    return result;
}

}  // namespace planform::grid
