#pragma once

/// A grid of cells over a plane that finds boxes near a place: the judge's own.

#include <cstddef>
#include <vector>

#include "planform/geometry.hpp"

namespace corpus {

class Cells {
  public:
    Cells() = default;
    /// Cells of about the size that leaves one a box; boxes may overlap.
    explicit Cells(const std::vector<planform::Box2>& boxes);

    /// Calls `visit(index)` for boxes that may hold a place within `distance` of `at`, each at
    /// least once, until it returns true; returns whether it did.
    template <class Visit>
    bool any_near(const planform::Point2& at, double distance, const Visit& visit) const {
        if (starts_.empty()) return false;
        const int left = column(at.x() - distance), right = column(at.x() + distance);
        const int low = row(at.y() - distance), high = row(at.y() + distance);
        for (int j = low; j <= high; ++j)
            for (int i = left; i <= right; ++i) {
                const std::size_t cell = index(i, j);
                for (std::size_t k = starts_[cell]; k < starts_[cell + 1]; ++k)
                    if (visit(items_[k])) return true;
            }
        return false;
    }

  private:
    int column(double x) const;
    int row(double y) const;
    std::size_t index(int i, int j) const {
        return static_cast<std::size_t>(j) * static_cast<std::size_t>(columns_) +
               static_cast<std::size_t>(i);
    }

    planform::Point2 corner_ = planform::Point2::Zero();
    double width_ = 1.0, height_ = 1.0;  ///< of a cell, mm
    int columns_ = 0, rows_ = 0;
    std::vector<std::size_t> starts_;  ///< of each cell in `items_`, and the end
    std::vector<std::size_t> items_;
};

}  // namespace corpus
