#pragma once

/// Bounds on how a spline surface faces the viewer, from its poles: nothing is sampled, so no fold
/// is missed.

#include <GeomAdaptor_Surface.hxx>
#include <gp_Trsf.hxx>
#include <vector>

#include "flatten/facing_patch.hpp"

namespace planform::flatten {

/// The polynomial pieces of a B-spline or Bezier surface inside a box of parameters, placed in
/// datum coordinates.
struct FacingBound {
    std::vector<FacingPatch> patches;
    /// A value of the patches below this is edge-on within FacingField::edge_on.
    double noise = 0.0;
};

/// Pieces for a surface of kind B-spline or Bezier, `box` in its parameters (clipped to its knots).
/// Empty if the degrees are too high for it to pay, or the box leaves a periodic surface's knots.
FacingBound bound_facing(const GeomAdaptor_Surface& surface, const gp_Trsf& placement,
                         const Box2& box, double edge_on);

}  // namespace planform::flatten
