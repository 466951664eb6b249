#pragma once

/// How a solid lies whose flat sides are known: the rule of side_up.hpp on the kernel's faces.

#include <span>
#include <vector>

#include "planform/features.hpp"
#include "planform/side_up.hpp"

namespace planform::plate {

/// A solid seen along its datum.
struct Laid {
    SideUp side;
    Box3 box;  ///< of all solids in the datum's frame; its lowest corner is over the origin
    /// What a straight cut makes of each solid, heights over the datum.
    std::vector<StraightCut> cuts;
};

/// Lays the bodies of one part (one at least) on one of the two sides across `direction`. Throws
/// GeometryError that names the solid if its faces can't be looked at.
Laid lay(std::span<const Solid> solids, const Vector3& direction);

/// The same where features can't be told: the side that the part's frame shows.
Laid lay_by_frame(std::span<const Solid> solids, const Vector3& direction);

}  // namespace planform::plate
