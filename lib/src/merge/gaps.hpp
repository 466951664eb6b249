#pragma once

/// The gap between an island and what is around it.

#include <vector>

#include "planform/profile.hpp"

namespace planform::merge {

/// A straight way across the gap.
struct Gap {
    Point2 from;   ///< on the island's outline
    Point2 to;     ///< the nearest point of the other outline
    double size;   ///< mm
    double place;  ///< where on the island's outline: share of its length, 0 to 1
};

/// Ways across the gap between two outlines, best first: local minima of its size (the middle where
/// it stays the same over a stretch), shortest first, then the other places looked at, shortest
/// first. Places are `spacing` mm apart or less, but no more than a few hundred.
std::vector<Gap> gaps_between(const Contour& island, const Contour& around, double spacing);

}  // namespace planform::merge
