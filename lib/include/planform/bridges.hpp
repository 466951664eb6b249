#pragma once

/// What falls out when a profile set is cut, and the bridges that hold it.
///
/// An *island* is a profile in a hole of another: the inside of an 8 that is cut through a plate. A
/// *drop-out* is what a sheet loses in a hole: the inside of an 8 that is cut out as a letter.

#include "planform/profile.hpp"

namespace planform {

/// The pieces of sheet that fall out of the holes: one profile each, under the name of the profile
/// that has the hole, islands in it taken off. Errors as for booleans.
ProfileSet drop_outs(const ProfileSet& profiles);

/// What bridges hold.
enum class Hold {
    islands,    ///< islands, to the material around them: strips are added
    drop_outs,  ///< drop-outs, to the sheet around the profiles: strips are taken away
};

/// The set with every island (or drop-out) held by `count` bridges, none left loose; where there is
/// room for fewer, by as many as fit, with a note that names the place. A bridge is a
/// strip `width` mm wide with straight sides that runs from material to material; its ends are the
/// outlines' own curves. The first bridge of an island stands where the gap is shortest (in the
/// middle where the gap is the same over a stretch), the others where it is shortest in the middle
/// halves of equal shares of the island's outline, so that they hold it from all sides (elsewhere
/// if there is no room). A strip is clear: it meets nothing but the gap it bridges, and keeps its
/// width from other bridges. Profiles without anything to hold come back as they are; marks don't
/// move.
///
/// The result is checked: nothing is left loose, and the area differs by that of the bridges alone,
/// to 1e-9 of the area.
///
/// Throws GeometryError: invalid_argument for a width that is not positive and finite or a count
/// below 1; bridge_not_placed, with the name and place of the island, where there is room for none.
ProfileSet bridges(const ProfileSet& profiles, double width, int count = 2,
                   Hold hold = Hold::islands);

}  // namespace planform
