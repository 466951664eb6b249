#pragma once

/// A zero set in the parameters of its face, and the way along it with predictor and corrector.

#include <optional>

#include "flatten/zero_sets/level_field.hpp"
#include "planform/geometry.hpp"

namespace planform::flatten {

/// A point of a zero set, in parameters scaled to the unit square by the face's parameter box.
struct ZeroPoint {
    Point2 at;
    Vector2 travel;  ///< unit, scaled: the zero set's direction, positive side on the left
};

/// How exactly a zero set is followed. Lengths are those of scaled parameters.
struct Following {
    int most_corrections;
    double settled;        ///< a correction below it is the last one
    double noise;          ///< so is one below this that is no longer half the one before
    double smallest_step;  ///< what can't be followed with it turns sharply
};

inline constexpr Following along_fold{12, 1e-12, 1e-9, 1e-9};
/// To rounding, as heights are given: nothing of a section is noise.
inline constexpr Following along_section{20, 1e-14, 0.0, 1e-10};

/// Zero sets of a field in scaled parameters p = (u, v): the corrector goes down the gradient. A
/// trace steps along the zero set by h in this scale.
class ZeroSet {
  public:
    ZeroSet(const LevelField& field, const Following& following)
        : field_(field),
          following_(following),
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
    /// A point that is known to lie on the zero set; nothing where the gradient vanishes.
    std::optional<ZeroPoint> point_at(const Point2& p) const;
    /// One step of at most h along the zero set, over a crease where there is one; h comes back as
    /// what suits the next step.
    std::optional<ZeroPoint> advance(const ZeroPoint& from, double& h) const;

    static constexpr double largest_step = 0.05;

  private:
    std::optional<ZeroPoint> past_crease(const ZeroPoint& from) const;

    const LevelField& field_;
    Following following_;
    Point2 low_;
    Vector2 range_;
};

/// True if the step from one point to the next comes by the place where a loop began.
bool closes_loop(const Point2& start, const Point2& from, const Point2& to);

}  // namespace planform::flatten
