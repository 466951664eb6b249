#pragma once

/// Which loose ends face each other?

#include <cstddef>
#include <vector>

#include "planform/geometry.hpp"

namespace planform::drawing {

/// Loose ends this close (mm) are taken for the two sides of a gap, not for ends of strays.
inline constexpr double gap_reach = 2.0;

struct LooseEnd {
    int id = 0;
    Point2 place = Point2::Zero();
    int run = 0;              ///< the same for both ends of one run of curves
    double run_length = 0.0;  ///< mm
    int node = -1;
    int far_node = -1;  ///< that at the other end of the run
    /// No loose end, but a node in which an odd number of curves meet: one may be missing there.
    bool is_junction = false;
};

struct LoosePair {
    std::size_t first;  ///< indices into the loose ends
    std::size_t second;
    double distance;
};

/// Pairs of ends at most `reach` mm apart, the nearest first, each end in one pair at most. Both
/// ends of one run make a pair only if the run is long enough to go round something; ends of two
/// runs only if the gap is shorter than either. Junctions make no pairs with each other.
std::vector<LoosePair> paired_ends(const std::vector<LooseEnd>& ends, double reach);

}  // namespace planform::drawing
