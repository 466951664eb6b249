#pragma once

/// Where along a face's boundary is the sign of a facing field to be looked at, so that no root is
/// missed?

#include <functional>
#include <vector>

#include "flatten/inset_curve.hpp"
#include "flatten/level_field.hpp"
#include "flatten/sign_scan.hpp"

namespace planform::flatten {

/// Places from start to end on the curve `depth(t)` inside the boundary, at least three.
///
/// The stretch is parted where surface and curve have knots. Where bounds are known (splines,
/// extruded and turned ones) each part is halved until they tell the sign all along it, or it is a
/// thirty-second of the part: the first kind holds no root, of the second the ends and their
/// neighbours are looked at. Elsewhere each part is sampled: enough for half a wave a step.
ScanPlaces boundary_places(const FacingField& field, const ParameterCurve& side,
                           const InsetCurve& curve, double start, double end,
                           const std::function<double(double)>& depth);

/// Equal steps that are enough for half a wave a step on a face whose folds are closed forms, and on
/// others for a strip along the boundary, which changes more slowly than the signs in it.
int sample_count(const ParameterCurve& side, const FaceSurface& surface);

}  // namespace planform::flatten
