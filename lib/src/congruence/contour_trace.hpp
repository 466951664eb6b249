#pragma once

/// A contour made ready for comparison: points on it, and the nearest point on it.

#include <optional>
#include <vector>

#include "planform/profile.hpp"

namespace planform::congruence {

/// A point of a contour and the unit normal of the curve there (either side).
struct Foot {
    Point2 point;
    Vector2 normal;
};

/// Keeps a pointer to the contour, which has to outlive it.
class ContourTrace {
  public:
    /// `chord_tolerance` (mm) sets how densely curves are sampled; nearest points are exact.
    ContourTrace(const Contour& contour, double chord_tolerance);

    const std::vector<Point2>& samples() const { return samples_; }
    Foot nearest(const Point2& point) const;

  private:
    struct Chord {
        std::size_t curve;
        double from, to;
        Point2 start, end;
    };
    Foot on_curve(const Chord& chord, const Point2& point) const;

    const Contour* contour_;
    std::optional<Arc> circle_;
    std::vector<Point2> samples_;
    std::vector<Chord> chords_;
    std::vector<Box2> blocks_;  ///< boxes of runs of neighbouring chords
};

}  // namespace planform::congruence
