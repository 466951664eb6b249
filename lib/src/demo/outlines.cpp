#include "demo/outlines.hpp"

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <GC_MakeArcOfCircle.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_TrimmedCurve.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <cmath>
#include <gp_Circ.hxx>
#include <gp_Elips.hxx>

namespace planform::demo {

namespace {

gp_Pnt point_of(const Point2& point) { return {point.x(), point.y(), 0.0}; }

TopoDS_Wire wire_of(const TopoDS_Edge& edge) { return BRepBuilderAPI_MakeWire(edge).Wire(); }

}  // namespace

Outline& Outline::line_to(double x, double y) {
    const Point2 to(x, y);
    edges_.push_back(BRepBuilderAPI_MakeEdge(point_of(at_), point_of(to)).Edge());
    at_ = to;
    return *this;
}

Outline& Outline::arc(const Point2& center, double turn) {
    const Eigen::Rotation2Dd half(turn / 2.0), full(turn);
    const Point2 middle = center + half * (at_ - center);
    const Point2 end = center + full * (at_ - center);
    const Handle(Geom_TrimmedCurve) curve =
        GC_MakeArcOfCircle(point_of(at_), point_of(middle), point_of(end)).Value();
    edges_.push_back(BRepBuilderAPI_MakeEdge(curve).Edge());
    at_ = end;
    return *this;
}

Outline& Outline::spline(const std::vector<Point2>& poles) {
    constexpr int degree = 3;
    const int count = static_cast<int>(poles.size()) + 1;
    const int spans = count - degree;
    TColgp_Array1OfPnt points(1, count);
    points.SetValue(1, point_of(at_));
    for (int i = 2; i <= count; ++i) {
        points.SetValue(i, point_of(poles[static_cast<size_t>(i) - 2]));
    }
    TColStd_Array1OfReal knots(1, spans + 1);
    TColStd_Array1OfInteger multiplicities(1, spans + 1);
    for (int i = 1; i <= spans + 1; ++i) {
        knots.SetValue(i, static_cast<double>(i - 1) / spans);
        multiplicities.SetValue(i, i == 1 || i == spans + 1 ? degree + 1 : 1);
    }
    const Handle(Geom_BSplineCurve) curve =
        new Geom_BSplineCurve(points, knots, multiplicities, degree);
    edges_.push_back(BRepBuilderAPI_MakeEdge(curve).Edge());
    at_ = poles.back();
    return *this;
}

TopoDS_Wire Outline::close() {
    if ((at_ - start_).norm() > 1e-9) line_to(start_.x(), start_.y());
    BRepBuilderAPI_MakeWire wire;
    for (const TopoDS_Edge& edge : edges_) wire.Add(edge);
    return wire.Wire();
}

TopoDS_Wire circle(const Point2& center, double radius) {
    const gp_Circ curve(gp_Ax2(point_of(center), gp::DZ()), radius);
    return wire_of(BRepBuilderAPI_MakeEdge(curve).Edge());
}

TopoDS_Wire ellipse(const Point2& center, double semi_x, double semi_y) {
    const bool along_x = semi_x >= semi_y;
    const gp_Ax2 axes(point_of(center), gp::DZ(), along_x ? gp::DX() : gp::DY());
    const gp_Elips curve(axes, std::max(semi_x, semi_y), std::min(semi_x, semi_y));
    return wire_of(BRepBuilderAPI_MakeEdge(curve).Edge());
}

TopoDS_Wire rectangle(const Point2& center, double width, double height) {
    const double x = width / 2.0, y = height / 2.0;
    return Outline(center + Point2(-x, -y))
        .line_to(center.x() + x, center.y() - y)
        .line_to(center.x() + x, center.y() + y)
        .line_to(center.x() - x, center.y() + y)
        .close();
}

TopoDS_Wire rounded_rectangle(const Point2& center, double width, double height, double radius) {
    const double x = width / 2.0 - radius, y = height / 2.0 - radius;
    const double left = center.x() - x, right = center.x() + x;
    const double low = center.y() - y, high = center.y() + y;
    return Outline({left, low - radius})
        .line_to(right, low - radius)
        .arc({right, low}, pi / 2)
        .line_to(right + radius, high)
        .arc({right, high}, pi / 2)
        .line_to(left, high + radius)
        .arc({left, high}, pi / 2)
        .line_to(left - radius, low)
        .arc({left, low}, pi / 2)
        .close();
}

TopoDS_Wire slotted_hole(const Point2& center, double length, double width) {
    const double x = (length - width) / 2.0, y = width / 2.0;
    const double left = center.x() - x, right = center.x() + x;
    return Outline({left, center.y() - y})
        .line_to(right, center.y() - y)
        .arc({right, center.y()}, pi)
        .line_to(left, center.y() + y)
        .arc({left, center.y()}, pi)
        .close();
}

}  // namespace planform::demo
