#pragma once

/// Where the clearance along the medial axis of the chords is least or greatest.

#include <vector>

#include "inspect/contact.hpp"
#include "inspect/near_curves.hpp"

namespace planform::inspection {

/// A place on the axis where two walls face each other and the clearance does not change.
struct FacingWalls {
    Foot first, second;
    /// The two ends of the stretch of axis, numbers of places of the axis: equal ones join.
    std::size_t from, to;
    double length;  ///< of that stretch, mm
};

/// A place where the axis branches or ends: its disc touches three walls.
struct AxisPlace {
    Point2 center;
    std::vector<Foot> feet;  ///< by direction, counter-clockwise
    /// The widest angle, seen from the centre, between neighbouring feet.
    double widest_gap;
};

struct MedialAxis {
    std::vector<FacingWalls> facing;
    std::vector<AxisPlace> places;
};

/// The Voronoi diagram of the chords of all near curves, no wider than `reach` mm across. `cell`:
/// grid on which the chords are snap rounded, so that none cross, in mm.
MedialAxis medial_axis(const CurveIndex& index, const NearCurves& near, double reach, double cell);

}  // namespace planform::inspection
