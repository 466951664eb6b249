#pragma once

/// From millimetres to the integers of box trees.

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "grid/box_tree.hpp"
#include "planform/geometry.hpp"

namespace planform::offset_detail {

/// Boxes in integers, rounded outward.
class IntegerFrame {
  public:
    explicit IntegerFrame(const Box2& box) : corner_(box.min()) {
        const double extent = std::max(box.sizes().maxCoeff(), 1e-300);
        scale_ = largest / extent;
    }
    grid::GridBox operator()(const Box2& box, double margin) const {
        const auto low = [&](double v, double c) {
            return static_cast<std::int32_t>(
                std::clamp(std::floor((v - margin - c) * scale_) - 1.0, -largest, 2.0 * largest));
        };
        const auto high = [&](double v, double c) {
            return static_cast<std::int32_t>(
                std::clamp(std::ceil((v + margin - c) * scale_) + 1.0, -largest, 2.0 * largest));
        };
        return {low(box.min().x(), corner_.x()), low(box.min().y(), corner_.y()),
                high(box.max().x(), corner_.x()), high(box.max().y(), corner_.y())};
    }

    /// A place and a length in the units of the boxes, as they are.
    Point2 place(const Point2& point) const { return scale_ * (point - corner_); }
    double length(double mm) const { return scale_ * mm; }

  private:
    static constexpr double largest = 5e8;
    Point2 corner_;
    double scale_;
};

}  // namespace planform::offset_detail
