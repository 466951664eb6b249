#pragma once

/// How far inside a face's boundary its sign may be taken without the outline showing it.

#include <vector>

#include "flatten/zero_sets/level_field.hpp"
#include "solid/inset_curve.hpp"

namespace planform::flatten {

/// `count` equal steps from start to end, and some places near the ends, where strips narrow:
/// between these places a field is to be looked at.
std::vector<double> places_between(double start, double end, int count);

/// Beside a wall to which it is tangent, a free-form face is seen edge-on all along its edge, and
/// what its file says there is noise: folds that run to and fro within a strip that nobody can see.
/// There signs are taken further inside: as deep as the strip stays narrower on the datum than the
/// grid tells apart, and no deeper than a tenth of the tolerance. Everywhere else, and on surfaces
/// whose folds are closed forms, the depth is InsetCurve::inset.
class StripDepth {
  public:
    /// For the stretch `start` to `end` of the curve; `tolerance` in mm.
    StripDepth(const LevelField& field, const solid::InsetCurve& curve, double start, double end,
               int count, double tolerance);

    /// As a share of the face's parameter box: continuous in t.
    double operator()(double t) const;
    /// True if the depth is InsetCurve::inset all along.
    bool is_least() const { return depths_.empty(); }

  private:
    std::vector<double> places_;
    std::vector<double> depths_;  ///< one a place; none: the least everywhere
};

}  // namespace planform::flatten
