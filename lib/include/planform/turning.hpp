#pragma once

/// Turning an outline for the smallest rectangle around it: an option of drawings, never the
/// default (side_up.hpp has that).

#include "planform/profile.hpp"

namespace planform {

/// The set turned within its plane by at most a quarter turn either way, so that the upright
/// rectangle around its profiles has the least area, its lower left corner in the origin; the datum
/// turns along, so that every point keeps its place in the model. A set that gains less than a
/// millionth of the area (a circle) is not turned.
///
/// Of all rectangles around a convex polygon the least has a side along one of the polygon's (H.
/// Freeman, R. Shapira, "Determining the minimum-area encasing rectangle for an arbitrary closed
/// curve", Communications of the ACM 18 (1975)); curves take part as chords within a tenth of the
/// set's tolerance, so that outlines of curves alone come within that of the least.
ProfileSet turned_to_smallest_rectangle(const ProfileSet& set);

}  // namespace planform
