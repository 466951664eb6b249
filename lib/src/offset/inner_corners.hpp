#pragma once

/// Inner corners that a round tool can't cut out.

#include <vector>

#include "planform/offset.hpp"
#include "planform/profile.hpp"

namespace planform::offset_detail {

/// A corner about which the material turns by more than a half turn; one with a radius below the
/// tool's stands where its walls would meet.
struct InnerCorner {
    Point2 point;
    Vector2 first_wall;   ///< unit, from the corner along the wall before
    Vector2 second_wall;  ///< unit, from the corner along the wall after
    double first_length;  ///< mm of wall, the rounding of the corner included
    double second_length;
    int profile;
    int contour;
    /// Curves of the contour that are the walls and, if rounded, the round between them.
    std::vector<int> curves;

    /// Of the void between the walls, in (0, pi).
    double angle() const;
    /// Unit, into the void.
    Vector2 bisector() const { return (first_wall + second_wall).normalized(); }
};

/// All inner corners of a set that a tool of `radius` mm leaves more than `tolerance` mm of.
std::vector<InnerCorner> inner_corners(const ProfileSet& set, double radius, double tolerance);

}  // namespace planform::offset_detail
