#include "flatten/face_surface.hpp"

#include <BRepTools.hxx>
#include <gp_Cone.hxx>
#include <gp_Cylinder.hxx>
#include <gp_Pln.hxx>
#include <gp_Sphere.hxx>
#include <gp_Torus.hxx>

namespace planform::flatten {
namespace {

Vector3 from_kernel(const gp_Vec& v) { return {v.X(), v.Y(), v.Z()}; }
Vector3 from_kernel(const gp_Dir& d) { return {d.X(), d.Y(), d.Z()}; }
Point3 from_kernel(const gp_Pnt& p) { return {p.X(), p.Y(), p.Z()}; }

}  // namespace

FaceSurface::FaceSurface(const TopoDS_Face& face) : adaptor_(face, Standard_False) {
    kind_ = adaptor_.GetType();
    gp_Ax3 frame;
    switch (kind_) {
        case GeomAbs_Plane: frame = adaptor_.Plane().Position(); break;
        case GeomAbs_Cylinder:
            frame = adaptor_.Cylinder().Position();
            radius_ = adaptor_.Cylinder().Radius();
            break;
        case GeomAbs_Cone:
            frame = adaptor_.Cone().Position();
            radius_ = adaptor_.Cone().RefRadius();
            half_angle_ = adaptor_.Cone().SemiAngle();
            break;
        case GeomAbs_Sphere:
            frame = adaptor_.Sphere().Position();
            radius_ = adaptor_.Sphere().Radius();
            break;
        case GeomAbs_Torus:
            frame = adaptor_.Torus().Position();
            radius_ = adaptor_.Torus().MajorRadius();
            tube_radius_ = adaptor_.Torus().MinorRadius();
            break;
        default: break;
    }
    origin_ = from_kernel(frame.Location());
    x_ = from_kernel(frame.XDirection());
    y_ = from_kernel(frame.YDirection());
    z_ = from_kernel(frame.Direction());
    handed_ = frame.Direct() ? 1.0 : -1.0;
    if (kind_ == GeomAbs_Torus) straighten();
    if (kind_ != GeomAbs_Plane)
        BRepTools::UVBounds(face, low_.x(), high_.x(), low_.y(), high_.y());
    else
        low_ = high_ = Point2::Zero();
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

SurfacePoint FaceSurface::first_order(const Point2& uv) const {
    gp_Pnt p;
    gp_Vec du, dv;
    adaptor_.D1(uv.x(), uv.y(), p, du, dv);
    SurfacePoint result;
    result.position = from_kernel(p);
    result.du = from_kernel(du);
    result.dv = from_kernel(dv);
    return result;
}

SurfacePoint FaceSurface::second_order(const Point2& uv) const {
    gp_Pnt p;
    gp_Vec du, dv, duu, dvv, duv;
    adaptor_.D2(uv.x(), uv.y(), p, du, dv, duu, dvv, duv);
    return {from_kernel(p),   from_kernel(du),  from_kernel(dv),
            from_kernel(duu), from_kernel(dvv), from_kernel(duv)};
}

}  // namespace planform::flatten
