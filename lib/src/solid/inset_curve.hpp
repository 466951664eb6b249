#pragma once

/// An edge in the parameter plane of a face, and the curve a little inside the face beside it.

#include <Geom2dAdaptor_Curve.hxx>
#include <Geom2d_Curve.hxx>

#include "planform/geometry.hpp"
#include "solid/face_surface.hpp"

namespace planform::solid {

class InsetCurve {
  public:
    /// How far inside the boundary signs are taken, as a share of the face's parameter box. The
    /// outline moves by the second order of it: 1e-5 of a quarter turn of radius r is 1e-10 r.
    static constexpr double inset = 1e-5;

    InsetCurve(const Handle(Geom2d_Curve) & pcurve, const FaceSurface& surface, bool interior_left);

    Point2 on(double t) const;
    Point2 inside(double t, double depth = inset) const;
    /// Parameter by which to keep off an end, so that the place is inside the next edge as well.
    /// Not the inset itself, or the two would cancel at an edge that comes in at 45 degrees.
    double margin(double t) const;

  private:
    /// Place and derivative.
    void first_order(double t, Point2& place, Vector2& derivative) const;

    Geom2dAdaptor_Curve pcurve_;  ///< keeps the span that was asked for last
    /// Most are straight: then the kernel need not be asked.
    bool is_straight_ = false;
    Point2 origin_;
    Vector2 direction_;
    Vector2 range_;
    double side_;
};

}  // namespace planform::solid
