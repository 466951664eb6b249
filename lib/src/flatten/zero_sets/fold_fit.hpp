#pragma once

/// From points along a zero set to curves on the datum.

#include <optional>
#include <vector>

#include "flatten/zero_sets/level_field.hpp"
#include "planform/curve.hpp"

namespace planform::flatten {

/// A point of a zero set, in parameters scaled to the unit square by the face's parameter box.
struct ZeroPoint {
    Point2 at;
    Vector2 travel;  ///< unit, scaled: the zero set's direction, positive side on the left
};

/// Zero sets of a field in scaled parameters p = (u, v): the corrector goes down the gradient.
class ZeroSet {
  public:
    explicit ZeroSet(const LevelField& field)
        : field_(field),
          low_(field.surface().low()),
          range_(field.surface().range().cwiseMax(1e-300)) {}

    const LevelField& field() const { return field_; }
    Point2 unscale(const Point2& p) const { return low_ + p.cwiseProduct(range_); }
    Point2 scale(const Point2& uv) const { return (uv - low_).cwiseQuotient(range_); }
    const Vector2& range() const { return range_; }
    FieldValue scaled_field(const Point2& p) const;
    /// The nearest point of the zero set, or nothing if Newton's method strays further than
    /// `reach`.
    std::optional<ZeroPoint> correct(Point2 p, double reach) const;

  private:
    const LevelField& field_;
    Point2 low_;
    Vector2 range_;
};

/// Curves head to tail along the zero set through the points of `path` (scaled, on or next to the
/// zero set): a cubic spline with the zero set's tangents, refined until it is within `tolerance`
/// mm of it; straight pieces where the zero set can't be found between two points, or wobbles.
std::vector<Curve> fit_path(const ZeroSet& zero_set, const std::vector<Point2>& path,
                            double tolerance);

}  // namespace planform::flatten
