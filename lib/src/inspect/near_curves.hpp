#pragma once

/// Which curves come near others: the only ones that narrow places can lie between.

#include <utility>
#include <vector>

#include "inspect/curve_index.hpp"

namespace planform::inspection {

struct NearCurves {
    /// By curve: near another (not a neighbour in the contour that just leads on), or near itself.
    std::vector<char> is_near;
    /// By round: chord tolerance in mm for those that are near a curve that is no round, else 0.
    std::vector<double> round_tolerance;
    /// Pairs of rounds no more than `reach` apart.
    std::vector<std::pair<int, int>> round_pairs;
};

/// Looks `reach` mm around each curve. O(n log n) as long as no curve has many others near it;
/// where rounds lie so dense that pairs would be many, they are treated as other curves are.
NearCurves find_near_curves(const CurveIndex& index, double reach);

}  // namespace planform::inspection
