#pragma once

/// Discs that touch the exact curves: found by Newton's method from a guess on the chords.

#include <optional>
#include <vector>

#include "inspect/curve_index.hpp"

namespace planform::inspection {

/// Where a disc touches: a parameter on a curve.
struct Foot {
    int curve;
    double t;
};

/// A disc that touches the outline at both ends of a diameter, or in three places or more that hold
/// its centre between them, and has none of the outline inside.
struct Contact {
    std::vector<Foot> feet;
    std::vector<Point2> points;  ///< one a foot
    Point2 center;
    double width;      ///< the diameter
    bool is_material;  ///< the disc lies in material, not in void
    /// The clearance grows to both sides (or stays): a neck, not the widest place.
    bool is_neck;
};

class ContactFinder {
  public:
    /// `slack`: how far, in mm, curves may reach into a disc (rounding of joints).
    ContactFinder(const CurveIndex& index, double slack) : index_(index), slack_(slack) {}

    /// The disc over a diameter between two curves, next to the guess; tries the neighbours in the
    /// contour and the corners between them, too. Nothing if there is none.
    std::optional<Contact> across(const Foot& first, const Foot& second) const;
    /// The same after walking down from the guess: each foot in turn to the nearest point along its
    /// contour of the other, until they stay. Finds necks only, but from far away.
    std::optional<Contact> downhill(Foot first, Foot second) const;
    /// The disc that touches three curves, next to the guess; its centre need not lie between the
    /// three feet. Nothing if there is none.
    std::optional<Contact> between(const Foot& first, const Foot& second, const Foot& third,
                                   const Point2& center) const;

  private:
    Point2 position(const Foot& foot) const;
    Foot nearest_along(Foot foot, const Point2& target) const;
    std::optional<Contact> checked(const std::vector<Foot>& feet, const Point2& center,
                                   double radius) const;

    const CurveIndex& index_;
    double slack_;
};

/// The curvature test of across(): true unless the clearance falls to both sides.
/// Offsets of curves: curvature k becomes k / (1 + k s) at distance s.
bool grows_to_both_sides(double first_opening, double second_opening, double radius);

}  // namespace planform::inspection
