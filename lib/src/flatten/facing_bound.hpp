#pragma once

/// Bounds on how a spline surface faces the viewer, from its poles: nothing is sampled, so no fold
/// is missed.

#include <GeomAdaptor_Surface.hxx>
#include <cstddef>
#include <gp_Trsf.hxx>
#include <utility>
#include <vector>

#include "planform/geometry.hpp"

namespace planform::flatten {

/// The z component of dS/du x dS/dv, but for a positive factor, on a rectangle of parameters, as a
/// polynomial in Bernstein form: its values lie between its least and its largest coefficient.
///
/// With homogeneous coordinates S = (X, Y, Z) / W the component is det[(X, Y, W), (X_u, Y_u, W_u),
/// (X_v, Y_v, W_v)] / W^3: the Jacobian of a projective map. Products and subdivision in Bernstein
/// form: R. T. Farouki, V. T. Rajan, Computer Aided Geometric Design 5 (1988) 1-26.
class FacingPatch {
  public:
    /// Coefficients of a rectangle, row by row in v for each step of u.
    FacingPatch(Box2 box, int degree_u, int degree_v, std::vector<double> coefficients);

    const Box2& box() const { return box_; }
    double low() const { return low_; }
    double high() const { return high_; }
    /// Values at the corner of least (0) or greatest (1) u and v: exact.
    double corner(int u, int v) const {
        return coefficients_[static_cast<std::size_t>(u * degree_u_ * (degree_v_ + 1) +
                                                      v * degree_v_)];
    }
    /// The two halves, cut across u or across v.
    std::pair<FacingPatch, FacingPatch> halves(bool across_u) const;

  private:
    Box2 box_;
    int degree_u_, degree_v_;
    std::vector<double> coefficients_;
    double low_, high_;
};

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
