#pragma once

/// Is a point in the material of a set?

#include <vector>

#include "planform/profile.hpp"

namespace planform::offset_detail {

/// Contours as polylines that are within a thousandth of the set's tolerance of them.
class Inside {
  public:
    explicit Inside(const ProfileSet& set);

    /// True if the contours turn around the point more often counter-clockwise than clockwise.
    bool holds(const Point2& point) const { return winding(point) > 0; }
    int winding(const Point2& point) const;

  private:
    struct Polyline {
        std::vector<Point2> points;
        Box2 box;
    };
    std::vector<Polyline> polylines_;
};

}  // namespace planform::offset_detail
