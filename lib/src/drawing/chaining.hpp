#pragma once

/// Parts as the edges of a graph: which follow each other to closed loops, which hang loose.

#include <span>
#include <vector>

#include "drawing/parts.hpp"

namespace planform::drawing {

/// A chain that bounds less than this share of the square of its length bounds nothing: a rectangle
/// of 1 by 1000 and all stouter ones bound more.
inline constexpr double least_area_share = 2e-4;

/// A part gone along or against its direction.
struct Step {
    int part;
    bool forward;
};

using Trail = std::vector<Step>;

struct Chaining {
    std::vector<Trail> loops;
    std::vector<OpenChain> open;
    std::vector<bool> hangs;  ///< one an open chain: its end lies on other curves
    std::vector<Gap> gaps;    ///< Closing::extended stands for all that are joined
};

/// Every part is in one loop or one open chain. `curves`: one a part. `groups`: one a source, or
/// empty.
Chaining chain(const std::vector<Part>& parts, const std::vector<Curve>& curves,
               std::span<const int> groups, const ClosingOptions& options);

}  // namespace planform::drawing
