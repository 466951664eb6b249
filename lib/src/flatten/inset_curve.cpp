#include "flatten/inset_curve.hpp"

#include <gp_Pnt2d.hxx>
#include <gp_Vec2d.hxx>
#include <limits>

namespace planform::flatten {

InsetCurve::InsetCurve(const Handle(Geom2d_Curve) & pcurve, const FaceSurface& surface,
                       bool interior_left)
    : pcurve_(pcurve),
      range_(surface.range().cwiseMax(1e-300)),
      side_(interior_left ? 1.0 : -1.0) {}

Point2 InsetCurve::on(double t) const {
    const gp_Pnt2d p = pcurve_->Value(t);
    return {p.X(), p.Y()};
}

Point2 InsetCurve::inside(double t) const {
    gp_Pnt2d p;
    gp_Vec2d d;
    pcurve_->D1(t, p, d);
    const Vector2 tangent(d.X() / range_.x(), d.Y() / range_.y());
    const double size = tangent.norm();
    if (size == 0.0) return {p.X(), p.Y()};
    const Vector2 normal = side_ / size * Vector2(-tangent.y(), tangent.x());
    return Point2(p.X(), p.Y()) + inset * normal.cwiseProduct(range_);
}

double InsetCurve::margin(double t) const {
    gp_Pnt2d p;
    gp_Vec2d d;
    pcurve_->D1(t, p, d);
    const double speed = Vector2(d.X() / range_.x(), d.Y() / range_.y()).norm();
    return speed > 0.0 ? 3.7 * inset / speed : std::numeric_limits<double>::infinity();
}

}  // namespace planform::flatten
