#include "model/measure/planar_face.hpp"

#include <BRepAdaptor_Surface.hxx>
#include <BRep_Tool.hxx>
#include <GeomLib_IsPlanarSurface.hxx>
#include <TopExp.hxx>
#include <TopoDS.hxx>
#include <cmath>
#include <gp_Ax3.hxx>

#include "model/kernel/points.hpp"
#include "model/measure/bounds.hpp"

namespace planform::model {

namespace {

/// A spline surface counts as planar within this distance, mm: the kernel's confusion.
constexpr double planar_within = 1e-7;

bool is_planar(const TopoDS_Face& face) {
    if (BRepAdaptor_Surface(face, Standard_False).GetType() == GeomAbs_Plane) return true;
    const Handle(Geom_Surface) surface = BRep_Tool::Surface(face);
    return !surface.IsNull() && GeomLib_IsPlanarSurface(surface, planar_within).IsPlanar();
}

}  // namespace

TopTools_IndexedMapOfShape parts_of(const TopoDS_Shape& shape, TopAbs_ShapeEnum kind) {
    TopTools_IndexedMapOfShape parts;
    TopExp::MapShapes(shape, kind, parts);
    return parts;
}

std::optional<Plane> plane_of(const TopoDS_Face& face) {
    if (!is_planar(face)) return std::nullopt;
    const BRepAdaptor_Surface surface(face, Standard_True);
    const double u = (surface.FirstUParameter() + surface.LastUParameter()) / 2.0;
    const double v = (surface.FirstVParameter() + surface.LastVParameter()) / 2.0;
    gp_Pnt point;
    gp_Vec along_u, along_v;
    surface.D1(u, v, point, along_u, along_v);
    const Vector3 normal = from_kernel(along_u.Crossed(along_v));
    if (!(normal.norm() > 0.0)) return std::nullopt;
    const double side = face.Orientation() == TopAbs_REVERSED ? -1.0 : 1.0;
    return Plane{from_kernel(point), side * normal.normalized()};
}

Box3 box_in(const Datum& datum, const TopoDS_Shape& shape) {
    const Point3& o = datum.origin();
    const Vector3& n = datum.normal();
    const Vector3& x = datum.x();
    gp_Trsf to_frame;
    to_frame.SetTransformation(
        gp_Ax3(to_kernel_point(o), to_kernel_direction(n), to_kernel_direction(x)));
    return tight_box(shape.Moved(TopLoc_Location(to_frame)));
}

}  // namespace planform::model
