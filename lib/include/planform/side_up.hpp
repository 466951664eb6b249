#pragma once

/// Which side of a flat part lies up, and which way round it is drawn: one rule for all commands.
///
/// 1. The side that carries features (pockets, countersinks, raised or sunk text: whatever a
///    straight cut can't make and is made from there) lies up, so that it can be worked as it lies.
/// 2. With features on neither side, or on both, the side that the part's own frame shows in its
///    top, front or right view lies up: the one whose outward normal points along +z, else along
///    -y, else along +x.
/// 3. The part is seen from above as it lies, never mirrored. The drawing's x is the projection of
///    the part's x axis (of its y axis, where x is the normal).
///
/// The part's own frame is that of its distinct shape (Solid::placement() carries it to the model),
/// so the answer does not depend on where an instance lies.

#include <span>
#include <string>
#include <vector>

#include "planform/datum.hpp"
#include "planform/model.hpp"
#include "planform/part_view.hpp"

namespace planform {

/// How a part lies.
struct SideUp {
    /// The normal points up. The plane is that of the bottom, the flat level that carries the
    /// thickness from below, or touches the lowest point where there is none; the origin is the
    /// lower left corner of the box of the shadow, so that the shadow lies in the first quadrant.
    Datum datum = Datum::xy();
    bool features_up = false;    ///< the side that lies up carries features
    bool features_down = false;  ///< the side below carries features: only if both do
    /// Why this side, one sentence.
    std::string text;

    /// Features on both sides: the part must be turned over to make them.
    bool is_worked_from_both_sides() const { return features_up && features_down; }
};

/// The side up of one part, by the rule above. Its flat sides are those of the plate that the solid
/// is (see plates()); of what is no plate, the largest planar face and what lies opposite, of equal
/// faces the one that the top view shows best. Where the kernel can't tell features, the frame
/// decides and `text` says so. Throws GeometryError if the solid has no planar face.
SideUp side_up(const Solid& solid);

/// The same for bodies of one part that are drawn together: the flat sides are those of the body
/// with the largest planar face, the features those of all bodies. Throws GeometryError also if
/// there are no solids.
SideUp side_up(std::span<const Solid> solids);

/// The datum of side_up().
Datum auto_datum(const Solid& solid);
Datum auto_datum(std::span<const Solid> solids);

/// Which solids lie flat beside or in each other and make one drawing, such as the bodies of
/// letters or what lies loose in a cut-out: groups of indices, each a solid with the largest planar
/// face that is left and all those between the two planes, parallel to that face, that bound it (to
/// 1e-6 mm). Plates that lie on each other or at an angle are groups of their own. Indices ascend;
/// groups go by their first index. Throws GeometryError if the kernel fails.
std::vector<std::vector<int>> coplanar_groups(std::span<const Solid> solids);

}  // namespace planform
