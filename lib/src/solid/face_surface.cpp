#include "solid/face_surface.hpp"

#include <BRepTools.hxx>
#include <BRep_Tool.hxx>
#include <BndLib_Add2dCurve.hxx>
#include <Bnd_Box2d.hxx>
#include <Geom2dAdaptor_Curve.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Plane.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Cone.hxx>
#include <gp_Cylinder.hxx>
#include <gp_Pln.hxx>
#include <gp_Sphere.hxx>
#include <gp_Torus.hxx>
#include <utility>

#include "model/heal/boundary_unwrap.hpp"
#include "model/kernel/points.hpp"

namespace planform::solid {
namespace {

/// The x and y directions of a surface's frame in datum coordinates.
std::pair<gp_Dir, gp_Dir> placed_directions(const gp_Ax3& frame, const TopLoc_Location& location,
                                            const gp_Trsf& placement) {
    gp_Dir x = frame.XDirection(), y = frame.YDirection();
    if (!location.IsIdentity()) {
        x.Transform(location.Transformation());
        y.Transform(location.Transformation());
    }
    x.Transform(placement);
    y.Transform(placement);
    return {x, y};
}

}  // namespace

FaceSurface::FaceSurface(const GraphFace& face, const gp_Trsf& placement) : face_(&face) {
    read_surface(placement);
    boundary_ = face.boundary;
    if (boundary_) return;
    boundary_ = std::make_shared<const FaceBoundary>(kind_ == GeomAbs_Plane ? FaceBoundary{}
                                                                            : read_boundary());
}

void FaceSurface::read_surface(const gp_Trsf& placement) {
    TopLoc_Location location;
    const Handle(Geom_Surface)& surface = BRep_Tool::Surface(face_->shape, location);
    placement_ = placement;
    if (!location.IsIdentity()) placement_.Multiply(location.Transformation());
    if (surface->DynamicType() == STANDARD_TYPE(Geom_Plane)) {
        // By far the most frequent surface: no adaptor is made for it.
        kind_ = GeomAbs_Plane;
        set_frame(
            static_cast<const Geom_Plane*>(surface.get())->Position().Transformed(placement_));
        return;
    }
    adaptor_.Load(surface);
    kind_ = adaptor_.GetType();
    switch (kind_) {
        case GeomAbs_Plane:
            set_frame(adaptor_.Plane().Position().Transformed(placement_));
            break;
        case GeomAbs_Cylinder: {
            const gp_Cylinder cylinder = adaptor_.Cylinder().Transformed(placement_);
            set_frame(cylinder.Position());
            radius_ = cylinder.Radius();
            break;
        }
        case GeomAbs_Cone: {
            const gp_Cone cone = adaptor_.Cone().Transformed(placement_);
            set_frame(cone.Position());
            radius_ = cone.RefRadius();
            half_angle_ = cone.SemiAngle();
            break;
        }
        case GeomAbs_Sphere: {
            const gp_Sphere sphere = adaptor_.Sphere().Transformed(placement_);
            set_frame(sphere.Position());
            radius_ = sphere.Radius();
            break;
        }
        case GeomAbs_Torus: {
            const gp_Torus torus = adaptor_.Torus().Transformed(placement_);
            set_frame(torus.Position());
            radius_ = torus.MajorRadius();
            tube_radius_ = torus.MinorRadius();
            straighten();
            break;
        }
        default:
            break;
    }
}

void FaceSurface::set_frame(const gp_Ax3& frame) {
    is_closed_form_ = true;
    origin_ = model::from_kernel(frame.Location());
    x_ = model::from_kernel(frame.XDirection());
    y_ = model::from_kernel(frame.YDirection());
    z_ = model::from_kernel(frame.Direction());
    handed_ = frame.Direct() ? 1.0 : -1.0;
}

FaceBoundary FaceSurface::read_boundary() const {
    FaceBoundary boundary;
    boundary.curves.resize(face_->uses.size());
    for (std::size_t i = 0; i < boundary.curves.size(); ++i) {
        ParameterCurve& side = boundary.curves[i];
        side.curve =
            BRep_Tool::CurveOnSurface(face_->uses[i].shape(), face_->shape, side.first, side.last);
    }
    const Vector2 periods(adaptor_.IsUPeriodic() ? adaptor_.UPeriod() : 0.0,
                          adaptor_.IsVPeriodic() ? adaptor_.VPeriod() : 0.0);
    if (!periods.isZero(0.0)) {
        std::vector<model::BoundaryUse> uses;
        for (const EdgeUse& use : face_->uses)
            uses.push_back(model::boundary_use(use.shape(), use.edge, use.along));
        boundary.is_unwrapped = model::unwrap_boundary(boundary.curves, uses, periods);
    }
    set_box(boundary);
    return boundary;
}

void FaceSurface::set_box(FaceBoundary& boundary) const {
    Point2 &low = boundary.low, &high = boundary.high;
    Box2 box;
    for (const ParameterCurve& side : boundary.curves) {
        if (side.curve.IsNull()) {
            box = Box2();
            break;
        }
        if (side.curve->DynamicType() == STANDARD_TYPE(Geom2d_Line)) {
            for (const double t : {side.first, side.last}) {
                box.extend(model::from_kernel(side.curve->Value(t)));
            }
            continue;
        }
        Bnd_Box2d bounds;
        BndLib_Add2dCurve::Add(Geom2dAdaptor_Curve(side.curve, side.first, side.last), 0.0, bounds);
        double u_low, v_low, u_high, v_high;
        bounds.Get(u_low, v_low, u_high, v_high);
        box.extend(Point2(u_low, v_low));
        box.extend(Point2(u_high, v_high));
    }
    if (box.isEmpty()) {
        BRepTools::UVBounds(face_->shape, low.x(), high.x(), low.y(), high.y());
        return;
    }
    low = box.min();
    high = box.max();
    // Boxes of splines are generous; the surface's own limits are not crossed.
    const auto keep_within = [](double& least, double& most, double first, double last) {
        least = std::max(least, first);
        most = std::min(most, last);
    };
    if (!adaptor_.IsUPeriodic())
        keep_within(low.x(), high.x(), adaptor_.FirstUParameter(), adaptor_.LastUParameter());
    if (!adaptor_.IsVPeriodic())
        keep_within(low.y(), high.y(), adaptor_.FirstVParameter(), adaptor_.LastVParameter());
}

void FaceSurface::straighten() {
    const double across = z_.head<2>().norm();
    if (std::abs(z_.z()) < straight_torus) {
        z_ = Vector3(z_.x(), z_.y(), 0.0).normalized();
    } else if (across < straight_torus) {
        z_ = Vector3(0.0, 0.0, z_.z() < 0.0 ? -1.0 : 1.0);
    } else {
        return;
    }
    x_ = (x_ - x_.dot(z_) * z_).normalized();
    y_ = handed_ * z_.cross(x_);
}

Point3 FaceSurface::placed(const gp_Pnt& p) const {
    return model::from_kernel(p.Transformed(placement_));
}

Vector3 FaceSurface::turned(const gp_Vec& v) const {
    return model::from_kernel(v.Transformed(placement_));
}

Point3 FaceSurface::position(const Point2& uv) const {
    if (!is_closed_form_) return placed(adaptor_.Value(uv.x(), uv.y()));
    if (kind_ == GeomAbs_Plane) return origin_ + uv.x() * x_ + uv.y() * y_;
    const Meridian at = meridian(uv.y());
    return origin_ + at.radius * radial(uv.x()) + at.height * z_;
}

SurfacePoint FaceSurface::first_order(const Point2& uv) const {
    SurfacePoint result;
    const double u = uv.x(), v = uv.y();
    if (!is_closed_form_) {
        gp_Pnt p;
        gp_Vec du, dv;
        adaptor_.D1(u, v, p, du, dv);
        result.position = placed(p);
        result.du = turned(du);
        result.dv = turned(dv);
        return result;
    }
    if (kind_ == GeomAbs_Plane) {
        result.position = origin_ + u * x_ + v * y_;
        result.du = x_;
        result.dv = y_;
        return result;
    }
    const Meridian at = meridian(v);
    const Vector3 out = radial(u);
    result.position = origin_ + at.radius * out + at.height * z_;
    result.du = at.radius * (std::cos(u) * y_ - std::sin(u) * x_);
    result.dv = at.radius_slope * out + at.height_slope * z_;
    return result;
}

FaceSurface::Meridian FaceSurface::meridian(double v) const {
    if (kind_ == GeomAbs_Cylinder) return {radius_, v, 0.0, 1.0};
    if (kind_ == GeomAbs_Cone) {
        const double radius_slope = std::sin(half_angle_), height_slope = std::cos(half_angle_);
        return {radius_ + v * radius_slope, v * height_slope, radius_slope, height_slope};
    }
    const bool is_sphere = kind_ == GeomAbs_Sphere;
    const double tube = is_sphere ? radius_ : tube_radius_;
    const double across = tube * std::cos(v), along = tube * std::sin(v);
    return {(is_sphere ? 0.0 : radius_) + across, along, -along, across};
}

SurfacePoint FaceSurface::second_order(const Point2& uv) const {
    gp_Pnt p;
    gp_Vec du, dv, duu, dvv, duv;
    adaptor_.D2(uv.x(), uv.y(), p, du, dv, duu, dvv, duv);
    return {placed(p), turned(du), turned(dv), turned(duu), turned(dvv), turned(duv)};
}

std::optional<double> plane_facing(const GraphFace& face, const gp_Trsf& placement) {
    TopLoc_Location location;
    const Handle(Geom_Surface)& surface = BRep_Tool::Surface(face.shape, location);
    if (surface->DynamicType() != STANDARD_TYPE(Geom_Plane)) return std::nullopt;
    const auto [x, y] = placed_directions(static_cast<const Geom_Plane*>(surface.get())->Position(),
                                          location, placement);
    return face.outward * (x.X() * y.Y() - x.Y() * y.X());
}

bool is_upright_cylinder(const GraphFace& face, const gp_Trsf& placement, double within) {
    TopLoc_Location location;
    const Handle(Geom_Surface)& surface = BRep_Tool::Surface(face.shape, location);
    if (surface->DynamicType() != STANDARD_TYPE(Geom_CylindricalSurface)) return false;
    const auto [x, y] =
        placed_directions(static_cast<const Geom_CylindricalSurface*>(surface.get())->Position(),
                          location, placement);
    return std::hypot(x.Z(), y.Z()) < within;
}

}  // namespace planform::solid
