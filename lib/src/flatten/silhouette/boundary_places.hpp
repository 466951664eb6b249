#pragma once

/// Where along a face's boundary is the sign of a facing field to be looked at, so that no root is
/// missed?

#include <array>
#include <functional>
#include <vector>

#include "flatten/curves/sign_scan.hpp"
#include "flatten/zero_sets/level_field.hpp"
#include "solid/inset_curve.hpp"

namespace planform::flatten {

/// Made once a face. Guarantee: between the places no root is missed wider than a thirty-second of
/// a polynomial piece of the surface, on extruded surfaces than 1e-6 of one.
///
/// A boundary curve is parted where it or the surface has knots. Where bounds are known (splines,
/// extruded and turned ones) each part is halved until they tell the sign all along it, or it is a
/// thirty-second of the part: the first kind holds no root, of the second the ends and their
/// neighbours are looked at. On extruded surfaces the sign changes across the extrusion alone:
/// there the lines on which it does are found first, and all edges are parted at the same ones.
/// Elsewhere each part is sampled: enough for half a wave a step.
class BoundaryPlaces {
  public:
    explicit BoundaryPlaces(const FacingField& field);

    /// Places from start to end on the curve `depth(t)` inside the boundary, at least three.
    ScanPlaces along(const solid::ParameterCurve& side, const solid::InsetCurve& curve,
                     double start, double end, const std::function<double(double)>& depth) const;

  private:
    const FacingField& field_;
    bool is_bounded_ = false;
    std::array<std::vector<double>, 2> ends_;  ///< of pieces along u and v
};

/// Equal steps that are enough for half a wave a step on a face whose folds are closed forms, and
/// on others for a strip along the boundary, which changes more slowly than the signs in it.
int sample_count(const solid::ParameterCurve& side, const solid::FaceSurface& surface);

}  // namespace planform::flatten
