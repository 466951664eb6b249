#pragma once

/// One polynomial piece of how a surface faces the viewer.

#include <cstddef>
#include <utility>
#include <vector>

#include "flatten/bounds/range.hpp"
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

    /// From now on lower degrees may stand for the polynomial in its parts, as long as they stay
    /// within `allowance` of it: the smaller a part, the fewer coefficients tell as much.
    void allow(double allowance) { allowance_ = allowance; }
    /// Lowers the degrees of the whole patch as far as is allowed.
    void reduce();

    const Box2& box() const { return box_; }
    /// Bounds, with what was allowed for.
    double low() const { return low_; }
    double high() const { return high_; }
    /// Value at the corner of least (0) or greatest (1) u and v, within the allowance.
    double corner(int u, int v) const {
        return coefficients_[static_cast<std::size_t>(u * degree_u_ * (degree_v_ + 1) +
                                                      v * degree_v_)];
    }
    /// The two halves, cut across u or across v.
    std::pair<FacingPatch, FacingPatch> halves(bool across_u) const;
    /// The part inside a box that it meets.
    FacingPatch within(const Box2& box) const;
    /// Bounds inside a box that it meets, at a fraction of the cost of that part. A box may have no
    /// width.
    Range over(const Box2& box) const;

  private:
    /// Cut at a share of the way across u or v.
    std::pair<FacingPatch, FacingPatch> cut(bool across_u, double share) const;
    void reduce(bool in_u);
    void set_bounds();

    Box2 box_;
    int degree_u_, degree_v_;
    std::vector<double> coefficients_;
    double allowance_ = 0.0;
    double error_ = 0.0;  ///< how far the coefficients may be off by now
    double low_ = 0.0, high_ = 0.0;
};

}  // namespace planform::flatten
