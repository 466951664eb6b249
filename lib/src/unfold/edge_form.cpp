#include "unfold/edge_form.hpp"

#include <GeomAPI_ProjectPointOnCurve.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BezierCurve.hxx>
#include <Geom_Circle.hxx>
#include <Geom_Ellipse.hxx>
#include <Geom_Line.hxx>
#include <algorithm>
#include <cmath>

namespace planform::unfolding {

namespace {

Vector3 from_kernel(const gp_Dir& d) { return {d.X(), d.Y(), d.Z()}; }

}  // namespace

EdgeForm::EdgeForm(const solid::GraphEdge& edge) : edge_(&edge) {
    start_ = edge.point(edge.first);
    end_ = edge.point(edge.last);
    if (edge.curve->DynamicType() == STANDARD_TYPE(Geom_Line)) {
        kind_ = Kind::line;
        ball_center_ = 0.5 * (start_ + end_);
        ball_radius_ = 0.5 * (end_ - start_).norm();
    } else if (edge.curve->DynamicType() == STANDARD_TYPE(Geom_Circle)) {
        kind_ = Kind::circle;
        gp_Circ circle = static_cast<const Geom_Circle*>(edge.curve.get())->Circ();
        if (edge.is_placed) circle.Transform(edge.placement());
        const gp_Ax2& frame = circle.Position();
        center_ = {frame.Location().X(), frame.Location().Y(), frame.Location().Z()};
        x_ = from_kernel(frame.XDirection());
        y_ = from_kernel(frame.YDirection());
        radius_ = circle.Radius();
        ball_center_ = center_;
        ball_radius_ = radius_;
        from_ = {std::cos(edge.first), std::sin(edge.first)};
        to_ = {std::cos(edge.last), std::sin(edge.last)};
    }
}

Point3 EdgeForm::point(double t) const {
    switch (kind_) {
        case Kind::line:
            return start_ + (t - edge_->first) / (edge_->last - edge_->first) * (end_ - start_);
        case Kind::circle:
            return center_ + radius_ * (std::cos(t) * x_ + std::sin(t) * y_);
        case Kind::other:
            break;
    }
    return edge_->point(t);
}

std::pair<Point3, Vector3> EdgeForm::first_order(double t) const {
    switch (kind_) {
        case Kind::line:
            return {point(t), (end_ - start_) / (edge_->last - edge_->first)};
        case Kind::circle: {
            const Vector3 out = std::cos(t) * x_ + std::sin(t) * y_;
            return {center_ + radius_ * out, radius_ * (std::cos(t) * y_ - std::sin(t) * x_)};
        }
        case Kind::other:
            break;
    }
    gp_Pnt place;
    gp_Vec along;
    edge_->curve->D1(t, place, along);
    if (edge_->is_placed) {
        place.Transform(edge_->placement());
        along.Transform(edge_->placement());
    }
    return {Point3(place.X(), place.Y(), place.Z()), Vector3(along.X(), along.Y(), along.Z())};
}

double EdgeForm::distance(const Point3& place) const {
    switch (kind_) {
        case Kind::line: {
            const Vector3 along = end_ - start_;
            const double length = along.squaredNorm();
            const double share =
                length > 0.0 ? std::clamp((place - start_).dot(along) / length, 0.0, 1.0) : 0.0;
            return (place - start_ - share * along).norm();
        }
        case Kind::circle: {
            const Vector3 d = place - center_;
            const Vector2 at(d.dot(x_), d.dot(y_));
            const double sweep = edge_->last - edge_->first;
            // Up to half a turn between both ends, above not between the last and the first.
            const bool is_over = sweep <= pi ? cross(from_, at) >= 0.0 && cross(at, to_) >= 0.0
                                             : cross(to_, at) <= 0.0 || cross(at, from_) <= 0.0;
            if (is_over) {
                const double aside = at.norm() - radius_;
                const double off = d.dot(x_.cross(y_));
                return std::sqrt(aside * aside + off * off);
            }
            return std::min((place - start_).norm(), (place - end_).norm());
        }
        case Kind::other:
            break;
    }
    gp_Pnt at(place.x(), place.y(), place.z());
    if (edge_->is_placed) at.Transform(edge_->placement().Inverted());
    double best = std::min((place - start_).norm(), (place - end_).norm());
    const GeomAPI_ProjectPointOnCurve projection(at, edge_->curve, edge_->first, edge_->last);
    if (projection.NbPoints() > 0) best = std::min(best, projection.LowerDistance());
    return best;
}

std::vector<double> EdgeForm::smooth_stretches() const {
    const double first = edge_->first, last = edge_->last;
    if (kind_ == Kind::line || edge_->curve->DynamicType() == STANDARD_TYPE(Geom_BezierCurve))
        return {first, last};
    if (kind_ == Kind::circle || edge_->curve->DynamicType() == STANDARD_TYPE(Geom_Ellipse)) {
        const int count = std::max(1, static_cast<int>(std::ceil((last - first) / (0.5 * pi))));
        std::vector<double> stops;
        for (int i = 0; i <= count; ++i) stops.push_back(first + (last - first) * i / count);
        return stops;
    }
    if (edge_->curve->DynamicType() != STANDARD_TYPE(Geom_BSplineCurve)) return {};
    const auto* spline = static_cast<const Geom_BSplineCurve*>(edge_->curve.get());
    if (spline->IsPeriodic()) return {};
    std::vector<double> stops{first};
    for (int i = 1; i <= spline->NbKnots(); ++i)
        if (spline->Knot(i) > stops.back() && spline->Knot(i) < last)
            stops.push_back(spline->Knot(i));
    stops.push_back(last);
    return stops;
}

}  // namespace planform::unfolding
