#pragma once

/// Bounds on how a spline surface faces the viewer, from its poles: nothing is sampled, so no fold
/// is missed.

#include <GeomAdaptor_Surface.hxx>
#include <gp_Trsf.hxx>
#include <optional>
#include <vector>

#include "flatten/bounds/facing_patch.hpp"
#include "flatten/bounds/range.hpp"
#include "flatten/bounds/spline_direction.hpp"

namespace planform::flatten {

/// The polynomial pieces of a B-spline or Bezier surface, or of an extruded spline, inside a box of
/// parameters, placed in datum coordinates.
struct FacingBound {
    std::vector<FacingPatch> patches;  ///< row by row, along v in each
    std::vector<double> u, v;          ///< where rows and columns of patches end, ascending
    /// A value of the patches below this is edge-on within edge_on.
    double noise = 0.0;
    /// See SplineNet.
    std::optional<Parameter> extruded_along;

    /// Bounds within a rectangle; what of it lies outside the patches counts as on their rim. There
    /// must be patches. Patches that have one sign throughout give their bounds as a whole.
    Range over(const Box2& box) const;
    /// The same for a rectangle that lies on the patches: what is asked of parts of it then costs
    /// less.
    FacingBound within(const Box2& box) const;

  private:
    struct Cells {
        std::size_t first_row, last_row, first_column, last_column;
    };
    /// The patches that a rectangle meets.
    Cells cells(const Box2& box) const;
    const FacingPatch& patch(std::size_t row, std::size_t column) const {
        return patches[row * (v.size() - 1) + column];
    }
};

/// Pieces for a surface that has a spline net, `box` in its parameters. Empty if it has none, the
/// degrees are too high for it to pay, or the box leaves the knots.
FacingBound bound_facing(const GeomAdaptor_Surface& surface, const gp_Trsf& placement,
                         const Box2& box, double edge_on);

}  // namespace planform::flatten
