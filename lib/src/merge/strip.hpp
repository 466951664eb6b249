#pragma once

/// A strip across a gap: as wide as asked, from material to material, through nothing else.

#include <optional>
#include <vector>

#include "merge/gaps.hpp"
#include "planform/profile.hpp"

namespace planform::merge {

struct Strip {
    Profile rectangle;   ///< reaches a little into the material on both sides
    double filled_area;  ///< mm^2 of gap in it
};

/// What a strip is tried against.
struct Surroundings {
    std::vector<const Profile*> material;  ///< the island and the one around it, and what is beside
    std::vector<const Profile*> obstacles;  ///< of these, what the strip must not touch
    double width;
    double tolerance;
};

/// The strip along a gap, if it is clear: between the two outlines it meets nothing but gap, over
/// its whole width, and goes on into material on both sides for at least `hold` mm.
std::optional<Strip> strip_across(const Gap& gap, const Surroundings& surroundings, double hold);

/// Are two strips so near that what is between them is narrower than half a strip?
bool crowd(const Strip& a, const Strip& b, double width);

}  // namespace planform::merge
