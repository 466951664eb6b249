#pragma once

/// What a tracer has to know about a face: the paths that it has walked already, and whether a
/// place lies inside. Places are in the face's parameter box scaled to the unit square.

#include <utility>
#include <vector>

#include "solid/face_interior.hpp"

namespace planform::flatten {

class TracedPaths {
  public:
    /// `rounding`: how far beside the path a place may lie in any case; chords of a path stand off
    /// their curve by up to a tenth of their length beside.
    TracedPaths(const solid::FaceSurface& surface, double rounding)
        : surface_(surface), interior_(surface, 1e-9), rounding_(rounding) {}

    void add(std::vector<Point2> path) { paths_.push_back(std::move(path)); }
    bool pass(const Point2& place) const;
    /// True if a path comes through the cell or by it within half its size.
    bool meet(const Box2& cell) const;
    /// True if the face, within its boundary, holds the place.
    bool is_inside_face(const Point2& place);

  private:
    const solid::FaceSurface& surface_;
    solid::FaceInterior interior_;
    double rounding_;
    std::vector<std::vector<Point2>> paths_;
};

}  // namespace planform::flatten
