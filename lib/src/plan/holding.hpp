#pragma once

/// Holding strips: gaps in a cut.

#include <vector>

#include "planform/curve.hpp"

namespace planform::planning {

/// What gaps are made in: the curves of a cut from its start round to its end.
struct HeldCut {
    std::vector<std::vector<Curve>> stretches;
    int strips = 0;  ///< that there was room for
};

/// Curves that may hold a strip, one flag a curve of the way.
using MayHold = std::vector<char>;

/// The way with up to `count` gaps of `gap` mm, spread evenly, on lines first, away from their
/// ends; where lines don't have room, on arcs of at least four gaps' radius.
HeldCut with_gaps(const std::vector<Curve>& way, int count, double gap, const MayHold& may_hold);

/// The way up to `length` mm, and what comes after. Where there is none the part is empty.
struct SplitWay {
    std::vector<Curve> before;
    std::vector<Curve> after;
};
SplitWay split_way(const std::vector<Curve>& way, double length);

double length_of(const std::vector<Curve>& way);

}  // namespace planform::planning
