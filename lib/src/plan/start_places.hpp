#pragma once

/// Where on a contour a cut may start, the best first.

#include <vector>

#include "plan/sheet_field.hpp"

namespace planform::planning {

/// A place on a contour. The cut leaves along `leaving`; waste is on the right of it.
struct StartPlace {
    int curve;
    double t;
    Point2 point;
    Vector2 leaving;   ///< unit
    Vector2 arriving;  ///< unit
    /// Angle of waste from `leaving` clockwise to the way back: pi where the contour is smooth.
    double opening;
};

/// The place at a parameter of a curve; at its start the corner between it and the one before, at
/// its end that between it and the next.
StartPlace start_place(const Contour& contour, int curve, double t);

/// Middles of lines, then of other curves, the longest first, then corners; or corners first; then
/// places evenly along the contour. Those on curves to avoid come last, and so do those with less
/// than `web` mm of material behind them.
std::vector<StartPlace> start_places(const SheetField& field, int contour, StartAt wanted,
                                     const std::vector<int>& avoid, double web);

/// The contour's curves from a place round to it again.
std::vector<Curve> from_place(const Contour& contour, const StartPlace& place);

}  // namespace planform::planning
