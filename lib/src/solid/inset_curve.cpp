#include "solid/inset_curve.hpp"

#include <Geom2d_Line.hxx>
#include <gp_Lin2d.hxx>
#include <gp_Pnt2d.hxx>
#include <gp_Vec2d.hxx>
#include <limits>

#include "model/kernel/points.hpp"

namespace planform::solid {

InsetCurve::InsetCurve(const Handle(Geom2d_Curve) & pcurve, const FaceSurface& surface,
                       bool interior_left)
    : pcurve_(pcurve), range_(surface.range().cwiseMax(1e-300)), side_(interior_left ? 1.0 : -1.0) {
    if (pcurve->DynamicType() != STANDARD_TYPE(Geom2d_Line)) {
        pcurve_.Load(pcurve);
        return;
    }
    const gp_Lin2d line = static_cast<const Geom2d_Line*>(pcurve.get())->Lin2d();
    is_straight_ = true;
    origin_ = model::from_kernel(line.Location());
    direction_ = model::from_kernel(line.Direction());
}

void InsetCurve::first_order(double t, Point2& place, Vector2& derivative) const {
    if (is_straight_) {
        place = origin_ + t * direction_;
        derivative = direction_;
        return;
    }
    gp_Pnt2d p;
    gp_Vec2d d;
    pcurve_.D1(t, p, d);
    place = model::from_kernel(p);
    derivative = model::from_kernel(d);
}

Point2 InsetCurve::on(double t) const {
    if (is_straight_) return origin_ + t * direction_;
    return model::from_kernel(pcurve_.Value(t));
}

Point2 InsetCurve::inside(double t, double depth) const {
    Point2 place;
    Vector2 derivative;
    first_order(t, place, derivative);
    const Vector2 tangent = derivative.cwiseQuotient(range_);
    const double size = tangent.norm();
    if (size == 0.0) return place;
    const Vector2 normal = side_ / size * Vector2(-tangent.y(), tangent.x());
    return place + depth * normal.cwiseProduct(range_);
}

double InsetCurve::margin(double t) const {
    Point2 place;
    Vector2 derivative;
    first_order(t, place, derivative);
    const double speed = derivative.cwiseQuotient(range_).norm();
    return speed > 0.0 ? 3.7 * inset / speed : std::numeric_limits<double>::infinity();
}

}  // namespace planform::solid
