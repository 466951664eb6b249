#pragma once

#include <vector>

#include "planform/curve.hpp"

namespace planform {

/// A spline that lies on one line within `tolerance` (mm), whatever way it goes there, as lines
/// head to tail: cut where it turns back. The lines keep the spline's ends, and reach the places of
/// turn to rounding. Empty if the spline does not lie on a line. Source: a spline lies in the
/// convex hull of its poles (positive weights).
std::vector<Curve> straight_pieces(const Spline& spline, double tolerance);

/// The simplest curves within `tolerance` (mm) head to tail: as canonical() says, and lines for a
/// spline that runs to and fro on one, as a curve does that is seen edge-on.
std::vector<Curve> canonical_pieces(const Spline& spline, double tolerance);

}  // namespace planform
