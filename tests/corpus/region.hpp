#pragma once

/// What an outline encloses and what triangles cover, asked place by place.

#include <array>
#include <vector>

#include "cells.hpp"
#include "planform/profile.hpp"

namespace corpus {

using Segment = std::array<planform::Point2, 2>;
using Triangle = std::array<planform::Point2, 3>;

/// The contours of a profile set as chords within `chord` mm.
std::vector<Segment> chords_of(const planform::ProfileSet& set, double chord);

/// The places that a ray to one side leaves through an odd number of segments: the inside of closed
/// contours with their holes and islands.
class Region {
  public:
    explicit Region(std::vector<Segment> segments);

    const std::vector<Segment>& segments() const { return segments_; }
    bool holds(const planform::Point2& at) const;
    /// True if a segment lies within `distance` mm.
    bool is_near(const planform::Point2& at, double distance) const;

  private:
    std::size_t strip(double y) const;

    std::vector<Segment> segments_;
    Cells cells_;  ///< of the segments, for distances
    /// The segments that each strip along x meets, for rays.
    std::vector<std::vector<std::size_t>> strips_;
    double lowest_ = 0.0, highest_ = 0.0;
};

/// The union of triangles.
class Cover {
  public:
    /// Triangles that are seen edge-on cover nothing.
    explicit Cover(const std::vector<Triangle>& triangles);

    bool holds(const planform::Point2& at) const;
    /// True if a triangle lies within `distance` mm.
    bool is_near(const planform::Point2& at, double distance) const;

  private:
    std::vector<Triangle> triangles_;  ///< counter-clockwise
    Cells cells_;
};

}  // namespace corpus
