#pragma once

/// The law of cover: every place of a solid's surface lies under its shadow.

#include <span>
#include <vector>

#include "planform/geometry.hpp"
#include "planform/profile.hpp"
#include "proof/surface_place.hpp"

namespace planform::proof {

/// An outline made ready to be asked about many places. A polygon within a quarter of the tolerance
/// stands for it: which side of it a place lies on is asked by the parity of crossings of a ray (M.
/// Shimrat, Communications of the ACM 5 (1962), algorithm 112), and shares nothing with the
/// arrangement that made the outline.
class ShadowCover {
  public:
    /// `tolerance` in mm.
    ShadowCover(std::span<const Profile> profiles, double tolerance);

    /// By how much a place lies outside, mm; nought inside.
    double outside(const Point2& place) const;

  private:
    void add(const Contour& contour);
    void set_bands();
    std::size_t band_of(double y) const;
    bool holds(const Point2& place) const;

    double within_;  ///< of the polygon, mm
    std::vector<Point2> starts_, ends_;
    double low_ = 0.0, height_ = 1.0;  ///< of the lowest band; of each
    std::vector<std::size_t> first_;   ///< by band: its first entry in `sides_`
    std::vector<std::size_t> sides_;   ///< that come into each band
};

/// Holds places of the surface against the outline. Returns the largest distance by which one lies
/// outside, mm. Throws PlaceNotCovered for one that lies more than `tolerance` mm outside.
double check_cover(std::span<const Profile> profiles, std::span<const SurfacePlace> places,
                   double tolerance);

}  // namespace planform::proof
