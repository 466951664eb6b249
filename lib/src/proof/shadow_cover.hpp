#pragma once

/// The law of cover: every place of a solid's surface lies under its shadow.

#include <span>

#include "planform/geometry.hpp"
#include "planform/profile.hpp"
#include "proof/side_grid.hpp"
#include "proof/surface_place.hpp"

namespace planform::proof {

/// An outline made ready to be asked about many places. A polygon within a quarter of the tolerance
/// stands for it: which side of it a place lies on is told by its winding number there, and shares
/// nothing with the arrangement that made the outline.
class ShadowCover {
  public:
    /// `tolerance` in mm.
    ShadowCover(std::span<const Profile> profiles, double tolerance);

    /// By how much a place lies outside, mm; nought inside.
    double outside(const Point2& place) const;

  private:
    double within_;  ///< of the polygon, mm
    SideGrid sides_;
};

/// Holds places of the surface against the outline. Returns the largest distance by which one lies
/// outside, mm. Throws PlaceNotCovered for one that lies more than `tolerance` mm outside.
double check_cover(std::span<const Profile> profiles, std::span<const SurfacePlace> places,
                   double tolerance);

}  // namespace planform::proof
