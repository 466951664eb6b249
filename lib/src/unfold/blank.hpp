#pragma once

/// From panels laid beside each other to the outline of the blank and its bends.

#include <vector>

#include "planform/datum.hpp"
#include "planform/unfold.hpp"
#include "unfold/development.hpp"

namespace planform::unfolding {

/// A curve of the blank's outline and the side that it comes from.
struct CutCurve {
    Curve curve;
    int side;
};

/// Contours in the blank's coordinates: the sides that are cut, head to tail, across joints.
std::vector<std::vector<CutCurve>> cut_loops(const Development& development);

/// Turns and moves all panels, so that x runs as the part's own x seen from above the root wall
/// (`part` carries the part's frame to the model), of a roll across its axis, and the box of the
/// blank begins in the origin; the datum on which the root then lies, with its lower side on the
/// plane.
Datum settle_frame(Development& development, const Transform3& part);

/// The profile that the loops make. Throws Refused for loops that overlap.
Profile profile_of(const Development& development, const std::vector<std::vector<CutCurve>>& loops,
                   const Datum& datum, const std::string& name);

/// All bends, in the blank's coordinates.
std::vector<Bend> bends_of(const Development& development);

/// Folds the blank back and lays it over the solid; the laws that were held. Throws GeometryError
/// (law_broken).
Proof prove_by_folding(const Development& development,
                       const std::vector<std::vector<CutCurve>>& loops, const Datum& datum,
                       double volume);

}  // namespace planform::unfolding
