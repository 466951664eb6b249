#pragma once

/// Curves without creases, with the direction and curvature of each place.

#include <vector>

#include "curve/spline.hpp"
#include "planform/curve.hpp"

namespace planform::offset_detail {

/// What a place on a curve tells about its parallel curves.
struct Place {
    Point2 point;
    Vector2 derivative;  ///< with respect to the parameter
    Vector2 tangent;     ///< unit; the limit from inside where the curve stands still
    double curvature;    ///< 1 / mm, positive turns left

    /// Unit normal to the right of the tangent: out of the material, which lies to the left.
    Vector2 normal() const { return {tangent.y(), -tangent.x()}; }
};

/// An elliptical arc or spline with a continuous tangent, in stretches on each of which it is
/// smooth (between knots; of an ellipse, between its axes).
class SmoothCurve {
  public:
    /// `curve` must have no crease inside; see creases().
    explicit SmoothCurve(const Curve& curve);

    std::size_t stretches() const { return breaks_.size() - 1; }
    Interval stretch(std::size_t index) const { return {breaks_[index], breaks_[index + 1]}; }
    /// Place at t within (or at an end of) a stretch, seen from inside it.
    Place at(std::size_t stretch, double t) const;

  private:
    Curve curve_;  ///< unless it is a spline
    std::vector<double> breaks_;
    std::vector<detail::BezierPiece> pieces_;  ///< of a spline, by stretch
    std::vector<double> usual_speeds_;         ///< of a spline, by stretch
};

/// Parameters inside the domain at which a spline has a crease or turns back, ascending; none for
/// other curves.
std::vector<double> creases(const Curve& curve);

/// Direction at the start or end of any curve: a unit vector, the limit from inside where the
/// derivative vanishes. Curvature there.
Place start_place(const Curve& curve);
Place end_place(const Curve& curve);

}  // namespace planform::offset_detail
