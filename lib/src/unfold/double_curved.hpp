#pragma once

/// Sheets that are curved two ways: domes, drawn parts, twisted strips. They have two sides a
/// thickness apart, but these are no planes, cylinders or cones.

#include <optional>

#include "unfold/sheet_body.hpp"

namespace planform::unfolding {

struct DoubleCurved {
    int face;          ///< the largest of them
    double thickness;  ///< mm
    double area;       ///< of all faces with another so far behind them, mm^2
};

/// Asks places of the largest faces that are no planes, cylinders or cones what lies behind them:
/// too slow for sheets that unfold, good to say why one doesn't.
std::optional<DoubleCurved> find_double_curved(const SheetBody& body);

}  // namespace planform::unfolding
