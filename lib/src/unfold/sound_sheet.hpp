#pragma once

/// Is everything that belongs to neither side of a sheet a cut through it?

#include <vector>

#include "unfold/sheet_body.hpp"
#include "unfold/skin.hpp"

namespace planform::unfolding {

/// Faces of rounded and chamfered edges, of countersinks: they begin at one side and end within the
/// thickness. By index, ascending.
std::vector<int> edge_breaks(const SheetBody& body, const Skin& skin);

/// Throws Refused for what goes on smoothly from a wall, but is no bend: formed or drawn.
void require_nothing_formed(const SheetBody& body, const Skin& skin);

/// Throws Refused for what stands out of the sheet or ends in it: whatever is not a cut that goes
/// through from side to side.
void require_cuts_only(const SheetBody& body, const Skin& skin);

/// Throws Refused for floors of grooves and steps that lie less than the thickness before the other
/// side: what the proof finds, with its place.
void require_full_thickness(const SheetBody& body, const Opposites& opposites, const Skin& skin);

}  // namespace planform::unfolding
