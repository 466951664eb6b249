#pragma once

#include <vector>

#include "planform/drawing.hpp"

namespace planform::drawing {

/// Open chains that were taken for strays and are contours with a part missing: they are none any
/// more, and have a gap. `hangs`: one an open chain, as from chain().
///
/// A chain is such a contour if
/// - nothing in the drawing is an outline, closed or open: what there is must be one then;
/// - it is one curve whose ends are no further apart than those of a third of a circle as long;
/// - it hangs on other curves, and comes back to where it hangs as half a circle does;
/// - it is one curve that is not straight within an outline: rather the rest of a hole than
/// nothing. All other single curves stay strays: a line that belongs to nothing, and a line that is
/// left of a contour of two, are the same line.
void tell_contours_from_strays(ClosedContours& closed, const std::vector<bool>& hangs);

}  // namespace planform::drawing
