#pragma once

/// Splines that go round and come to lie on themselves, such as the outline of a wound wire.

#include "arrange/chains/input.hpp"

namespace planform::arrange {

/// The same curves, but splines that run along themselves within `near` mm a turn later are cut
/// into stretches that turn by less: what lies on each other is then a matter between two curves.
/// Closed splines that only meet their own start stay whole. O(n) but for those that go round.
Input with_wound_curves_cut(Input input, double near);

}  // namespace planform::arrange
