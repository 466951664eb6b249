#include "features/closed_form.hpp"

#include <BRep_Tool.hxx>
#include <GeomAdaptor_Surface.hxx>
#include <GeomConvert.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_RectangularTrimmedSurface.hxx>
#include <ShapeCustom_Surface.hxx>
#include <Standard_Failure.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Cone.hxx>
#include <gp_Cylinder.hxx>
#include <gp_Pln.hxx>
#include <gp_Sphere.hxx>
#include <gp_Torus.hxx>

#include "flatten/face_lean.hpp"

namespace planform::features {
namespace {

/// A spline is a closed form within this, mm: ten times the confusion of common solid modellers.
constexpr double recognised_within = 1e-6;

Point3 from_kernel(const gp_Pnt& p) { return {p.X(), p.Y(), p.Z()}; }
Vector3 from_kernel(const gp_Dir& d) { return {d.X(), d.Y(), d.Z()}; }

void take(const GeomAdaptor_Surface& surface, const gp_Trsf& placement, FaceView& view) {
    const auto set_axis = [&view](const gp_Pnt& on_axis, const gp_Dir& axis) {
        view.on_axis = from_kernel(on_axis);
        view.axis = from_kernel(axis);
    };
    switch (surface.GetType()) {
        case GeomAbs_Plane: {
            const gp_Pln plane = surface.Plane().Transformed(placement);
            set_axis(plane.Location(), plane.Axis().Direction());
            break;
        }
        case GeomAbs_Cylinder: {
            const gp_Cylinder cylinder = surface.Cylinder().Transformed(placement);
            set_axis(cylinder.Location(), cylinder.Axis().Direction());
            view.radius = cylinder.Radius();
            break;
        }
        case GeomAbs_Cone: {
            const gp_Cone cone = surface.Cone().Transformed(placement);
            set_axis(cone.Apex(), cone.Axis().Direction());
            view.half_angle = std::abs(cone.SemiAngle());
            break;
        }
        case GeomAbs_Sphere: {
            const gp_Sphere sphere = surface.Sphere().Transformed(placement);
            set_axis(sphere.Location(), sphere.Position().Direction());
            view.radius = sphere.Radius();
            break;
        }
        case GeomAbs_Torus: {
            const gp_Torus torus = surface.Torus().Transformed(placement);
            set_axis(torus.Location(), torus.Axis().Direction());
            view.radius = torus.MinorRadius();
            view.ring = torus.MajorRadius();
            break;
        }
        default:
            return;
    }
    view.kind = surface.GetType();
}

/// Distance of a place from the closed form of a view.
double distance(const FaceView& view, const Point3& place) {
    const Vector3 way = place - view.on_axis;
    const double along = way.dot(view.axis), across = (way - along * view.axis).norm();
    switch (view.kind) {
        case GeomAbs_Plane:
            return std::abs(along);
        case GeomAbs_Cylinder:
            return std::abs(across - view.radius);
        case GeomAbs_Cone:
            return std::abs(across * std::cos(view.half_angle) -
                            std::abs(along) * std::sin(view.half_angle));
        case GeomAbs_Sphere:
            return std::abs(way.norm() - view.radius);
        default:
            return std::abs(std::hypot(across - view.ring, along) - view.radius);
    }
}

/// The part of a surface that a face uses, as a spline; null if the kernel can't.
Handle(Geom_Surface) as_spline(const flatten::FaceSurface& surface, TopLoc_Location& location) {
    const Handle(Geom_Surface) whole = BRep_Tool::Surface(surface.face(), location);
    if (whole->IsKind(STANDARD_TYPE(Geom_BSplineSurface))) return whole;
    const Handle(Geom_Surface) part = new Geom_RectangularTrimmedSurface(
        whole, surface.low().x(), surface.high().x(), surface.low().y(), surface.high().y());
    return GeomConvert::SurfaceToBSplineSurface(part);
}

}  // namespace

void read_closed_form(const flatten::SectionSolid& solid, std::size_t face, FaceView& view) {
    TopLoc_Location location;
    const Handle(Geom_Surface) surface =
        BRep_Tool::Surface(solid.graph().faces[face].shape, location);
    take(GeomAdaptor_Surface(surface),
         solid.graph().placement.Multiplied(location.Transformation()), view);
}

void recognise(const flatten::SectionSolid& solid, std::size_t face, FaceView& view) {
    if (view.kind != GeomAbs_OtherSurface) return;
    FaceView found = view;
    try {
        TopLoc_Location location;
        const Handle(Geom_Surface) spline = as_spline(solid.surface(face), location);
        ShapeCustom_Surface custom(spline);
        const Handle(Geom_Surface) form = custom.ConvertToAnalytical(recognised_within, false);
        if (form.IsNull()) return;
        take(GeomAdaptor_Surface(form),
             solid.graph().placement.Multiplied(location.Transformation()), found);
    } catch (const Standard_Failure&) {
        return;  // it stays a free form
    }
    if (found.kind == GeomAbs_OtherSurface) return;
    for (const flatten::FaceSample& sample : flatten::face_samples(solid, face))
        if (distance(found, sample.place) > recognised_within) return;
    view = found;
}

Vector3 outward_of(const FaceView& view, const Point3& place) {
    const Vector3 way = place - view.on_axis;
    const Vector3 across = way - way.dot(view.axis) * view.axis;
    switch (view.kind) {
        case GeomAbs_Cylinder:
        case GeomAbs_Cone:
            return across.normalized();
        case GeomAbs_Sphere:
            return way.normalized();
        case GeomAbs_Torus:
            return (way - view.ring * across.normalized()).normalized();
        default:
            return Vector3::Zero();
    }
}

}  // namespace planform::features
