#pragma once

/// Curves that were moved and moved back become themselves again.

#include "planform/profile.hpp"

namespace planform::offset_detail {

/// `moved` with each ellipse and spline that runs along a curve of `original`, within `bound` mm of
/// it from end to end, replaced by that piece of it. Parallels of parallels are fits of fits, in
/// ever more spans: done again and again, opening and closing would take ever longer.
ProfileSet restored(const ProfileSet& moved, const ProfileSet& original, double bound);

}  // namespace planform::offset_detail
