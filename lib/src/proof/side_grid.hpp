#pragma once

/// Straight sides on a grid of cells: how they wind around a place, and how far the nearest is.

#include <array>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <span>
#include <vector>

#include "planform/curve.hpp"
#include "planform/geometry.hpp"
#include "planform/profile.hpp"

namespace planform::proof {

/// Winding numbers, one a set of chains.
using Windings = std::array<int, 3>;

/// Sides of up to three sets of closed chains. The winding number at the middle of each cell is
/// counted along its row; that of a place differs by the sides of its cell that are crossed on the
/// way to it: so a place costs the same however many sides there are. Shares nothing with the
/// arrangement.
class SideGrid {
  public:
    /// The winding number to the left of a side is higher by `weight` than to the right.
    void add(const Point2& start, const Point2& end, int weight = 1, int set = 0) {
        sides_.push_back({start, end, weight, set});
    }
    /// Adds the polygon through a curve's points, within `tolerance` mm of it, its ends put at the
    /// given places.
    void add(const Curve& curve, const Point2& start, const Point2& end, double tolerance,
             int weight, int set);
    /// Adds the contours of profiles as polygons within `tolerance` mm of them.
    void add(std::span<const Profile> profiles, double tolerance, int set = 0);
    /// To be called once, after the last side.
    void sort_into_cells();

    bool empty() const { return sides_.empty(); }

    /// How the sides of each set wind around a place.
    Windings windings(const Point2& place) const;

    /// From a place to the nearest side of the sets first..last, mm, or to one that is no further
    /// than `enough`. Infinite without sides.
    double distance(const Point2& place, double enough, int first = 0, int last = 2) const;

  private:
    struct Side {
        Point2 start, end;
        int weight, set;
    };

    int column(double x) const;
    int row(double y) const;
    std::size_t cell(int column, int row) const {
        return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
               static_cast<std::size_t>(column);
    }
    /// Near the middle of a cell: in it no side of a symmetric outline ends, and none runs through
    /// it, where rounding would decide on which side it lies.
    Point2 middle(int column, int row) const {
        return low_ + Vector2((column + 0.4871) * size_.x(), (row + 0.5297) * size_.y());
    }
    void set_cells();
    /// Calls `visit(column)` for the cells of a row that a side may come into.
    template <typename Visit>
    void for_each_column(const Side& side, int row, const Visit& visit) const;
    void count_windings();

    std::vector<Side> sides_;
    Point2 low_ = Point2::Zero(), high_ = Point2::Zero();
    Vector2 size_ = Vector2::Ones();  ///< of a cell, mm
    int columns_ = 1, rows_ = 1;
    std::vector<std::uint32_t> first_;     ///< by cell: its first entry in `in_cells_`
    std::vector<std::uint32_t> in_cells_;  ///< sides
    std::vector<Windings> windings_;       ///< by cell: at its middle
};

}  // namespace planform::proof
