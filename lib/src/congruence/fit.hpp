#pragma once

/// The motion that brings two figures closest, and how close.

#include <vector>

#include "congruence/contour_trace.hpp"
#include "planform/geometry.hpp"

namespace planform::congruence {

/// Pairs of a contour and its partner.
struct TracePair {
    const ContourTrace* first;
    const ContourTrace* second;
};

struct Fit {
    Transform2 motion;
    double deviation;  ///< greatest distance of a sampled point from the partner, mm
};

/// Improves `motion` until no point is further from its partner's curve than `enough` mm, or no
/// better one is found. `centre` (in the second figure's plane) and `reach`: its size.
Fit fit_motion(const std::vector<TracePair>& pairs, const Transform2& motion, const Point2& centre,
               double reach, double enough);

}  // namespace planform::congruence
