#pragma once

/// What the tool can't reach on its way around a part.

#include <vector>

#include "planform/profile.hpp"

namespace planform::allowance {

/// A place of the part that the cut leaves standing.
struct Unreached {
    Point2 place = Point2::Zero();
    /// mm of material between it and the cut.
    double depth = 0.0;
    /// The walls around it lie between two lips that the tool touches, and nothing of them is cut:
    /// a notch that is lost. Else the tip of one that is cut otherwise.
    bool is_lost = false;
    Point2 first_lip = Point2::Zero(), second_lip = Point2::Zero();  ///< of a lost notch
};

/// Places of the part that stand off a cut of `radius` to both sides of the way by more than half
/// of the radius, the deepest of each notch: a corner of a right angle keeps 0.41 of it. `near`:
/// what stands off by less (mm) is cut.
std::vector<Unreached> unreached(const ProfileSet& part, const ProfileSet& way, double radius,
                                 double near);

}  // namespace planform::allowance
