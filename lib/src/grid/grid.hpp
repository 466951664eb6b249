#pragma once

/// The integer grid on which chords are arranged.

#include <cstdint>

#include "planform/geometry.hpp"

namespace planform::grid {

/// A point of the grid. |x|, |y| < 2^30, so that products of differences fit 64 bits.
struct GridPoint {
    std::int64_t x = 0;
    std::int64_t y = 0;
    friend bool operator==(const GridPoint&, const GridPoint&) = default;
    /// Lexicographic: by x, then by y. The sweep goes in this order.
    friend auto operator<=>(const GridPoint&, const GridPoint&) = default;
};

/// Twice the signed area of the triangle a, b, c; exact. Positive if c is left of a -> b.
inline std::int64_t orientation(const GridPoint& a, const GridPoint& b, const GridPoint& c) {
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

/// The map between the plane (mm) and the grid.
class Grid {
  public:
    /// Largest coordinate that is used: with |x| <= 2^29 the differences stay below 2^30 and the
    /// determinant of two of them below 2^61.
    static constexpr double largest = 536870912.0;

    /// Covers `box` with cells of `cell` mm, or of the smallest size that the box allows.
    Grid(const Box2& box, double cell);

    double cell() const { return cell_; }
    GridPoint snap(const Point2& point) const;
    Point2 position(const GridPoint& point) const;

  private:
    Point2 center_;
    double cell_;
};

}  // namespace planform::grid
