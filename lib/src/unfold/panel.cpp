#include "unfold/panel.hpp"

#include <cmath>

namespace planform::unfolding {

Panel::Panel(int face, const SheetSurface& surface, bool upper, double thickness)
    : face_(face), kind_(surface.kind), upper_(upper), thickness_(thickness) {
    if (kind_ == SurfaceKind::plane) {
        z_ = upper ? surface.axis : Vector3(-surface.axis);
        origin_ = surface.origin - 0.5 * thickness * surface.axis;
        x_ = z_.unitOrthogonal();
        y_ = z_.cross(x_);
        return;
    }
    z_ = surface.axis.normalized();
    x_ = surface.middle;
    y_ = z_.cross(x_);
    origin_ = surface.origin;
    up_is_away_ = upper == !surface.hollow;
    const double inwards = surface.hollow ? -0.5 * thickness : 0.5 * thickness;
    if (kind_ == SurfaceKind::cylinder) {
        middle_radius_ = surface.radius - inwards;
    } else {
        half_angle_ = surface.half_angle;
        origin_ += inwards / std::sin(half_angle_) * z_;
    }
    set_neutral_depth(0.5 * thickness);
}

Panel::Ruling Panel::ruling(double angle) const {
    const Vector3 radial = std::cos(angle) * x_ + std::sin(angle) * y_;
    if (kind_ == SurfaceKind::cylinder) return {origin_ + middle_radius_ * radial, z_};
    return {origin_, std::sin(half_angle_) * radial + std::cos(half_angle_) * z_};
}

Panel::Frame Panel::frame() const {
    if (kind_ == SurfaceKind::plane) return {origin_, x_, z_, Point2::Zero()};
    const double turn = up_is_away_ ? 1.0 : -1.0;
    if (kind_ == SurfaceKind::cylinder)
        return {origin_ + middle_radius_ * x_, turn * y_, turn * x_, Point2::Zero()};
    const Vector3 ruling = std::sin(half_angle_) * x_ + std::cos(half_angle_) * z_;
    const Point3 place = origin_ + ruling;
    return {place, ruling, up_at(place), {1.0 + neutral_shift_, 0.0}};
}

void Panel::set_neutral_depth(double depth) {
    // The inside looks at the axis.
    const double from_middle = depth - 0.5 * thickness_;
    neutral_radius_ = middle_radius_ + from_middle;
    if (kind_ == SurfaceKind::cone) neutral_shift_ = from_middle / std::tan(half_angle_);
}

Vector3 Panel::up_at(const Point3& place) const {
    if (kind_ == SurfaceKind::plane) return z_;
    const Vector3 d = place - origin_;
    const Vector3 radial = (d - d.dot(z_) * z_).normalized();
    const Vector3 away = kind_ == SurfaceKind::cylinder
                             ? radial
                             : Vector3(std::cos(half_angle_) * radial - std::sin(half_angle_) * z_);
    return up_is_away_ ? away : Vector3(-away);
}

double Panel::height(const Point3& place) const {
    const Vector3 d = place - origin_;
    if (kind_ == SurfaceKind::plane) return d.dot(z_);
    const double axial = d.dot(z_);
    const double radius = (d - axial * z_).norm();
    const double away = kind_ == SurfaceKind::cylinder
                            ? radius - middle_radius_
                            : radius * std::cos(half_angle_) - axial * std::sin(half_angle_);
    return up_is_away_ ? away : -away;
}

double Panel::angle(const Point3& place) const {
    const Vector3 d = place - origin_;
    return std::atan2(d.dot(y_), d.dot(x_));
}

double Panel::along(const Point3& place) const {
    const Vector3 d = place - origin_;
    if (kind_ == SurfaceKind::cylinder) return d.dot(z_);
    const double axial = d.dot(z_);
    const double radius = (d - axial * z_).norm();
    return axial * std::cos(half_angle_) + radius * std::sin(half_angle_);
}

double Panel::stretch(double along) const {
    switch (kind_) {
        case SurfaceKind::cylinder:
            return neutral_radius_ / middle_radius_;
        case SurfaceKind::cone:
            return (along + neutral_shift_) / along;
        default:
            return 1.0;
    }
}

Point2 Panel::flat(const Point3& place) const {
    if (kind_ == SurfaceKind::plane) {
        const Vector3 d = place - origin_;
        return {d.dot(x_), d.dot(y_)};
    }
    const double turn = up_is_away_ ? 1.0 : -1.0;
    if (kind_ == SurfaceKind::cylinder)
        return {turn * neutral_radius_ * angle(place), along(place)};
    // Seen from the tip of the normal away from the axis, angles about it run against those about
    // the apex.
    const double about_apex = -turn * angle(place) * std::sin(half_angle_);
    const double distance = along(place) + neutral_shift_;
    return {distance * std::cos(about_apex), distance * std::sin(about_apex)};
}

Point3 Panel::from_flat(const Point2& place, double height) const {
    return origin_ + place.x() * x_ + place.y() * y_ + height * z_;
}

}  // namespace planform::unfolding
