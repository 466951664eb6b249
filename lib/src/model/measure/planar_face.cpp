#include "model/measure/planar_face.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRep_Tool.hxx>
#include <GeomLib_IsPlanarSurface.hxx>
#include <TopExp.hxx>
#include <TopoDS.hxx>
#include <cmath>
#include <gp_Ax3.hxx>

#include "model/measure/bounds.hpp"

namespace planform::model {

namespace {

/// Lengths nearer than this, relative, count as equal.
constexpr double tie = 1e-6;
/// A spline surface counts as planar within this distance, mm: the kernel's confusion.
constexpr double planar_within = 1e-7;

Point3 point_of(const gp_Pnt& point) { return {point.X(), point.Y(), point.Z()}; }
Vector3 vector_of(const gp_Vec& vector) { return {vector.X(), vector.Y(), vector.Z()}; }

bool is_planar(const TopoDS_Face& face) {
    if (BRepAdaptor_Surface(face, Standard_False).GetType() == GeomAbs_Plane) return true;
    const Handle(Geom_Surface) surface = BRep_Tool::Surface(face);
    return !surface.IsNull() && GeomLib_IsPlanarSurface(surface, planar_within).IsPlanar();
}

/// Of two opposite directions the one whose first component that is not about 0 is positive, so
/// that the direction of an edge in the file doesn't matter.
Vector3 with_fixed_sign(const Vector3& direction) {
    for (int i = 0; i < 3; ++i) {
        if (std::abs(direction[i]) > tie)
            return direction[i] > 0.0 ? direction : Vector3(-direction);
    }
    return direction;
}

/// Direction of the longest straight edge of a face; nothing if it has none.
std::optional<Vector3> longest_straight_direction(const TopoDS_Face& face) {
    std::optional<Vector3> direction;
    double longest = 0.0;
    const TopTools_IndexedMapOfShape edges = parts_of(face, TopAbs_EDGE);
    for (int i = 1; i <= edges.Extent(); ++i) {
        const TopoDS_Edge& edge = TopoDS::Edge(edges(i));
        if (BRep_Tool::Degenerated(edge)) continue;
        const BRepAdaptor_Curve curve(edge);
        if (curve.GetType() != GeomAbs_Line) continue;
        const double length = curve.LastParameter() - curve.FirstParameter();
        if (length <= longest * (1.0 + tie)) continue;
        longest = length;
        direction = with_fixed_sign(vector_of(curve.Line().Direction()));
    }
    return direction;
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
    const Vector3 normal = vector_of(along_u.Crossed(along_v));
    if (!(normal.norm() > 0.0)) return std::nullopt;
    const double side = face.Orientation() == TopAbs_REVERSED ? -1.0 : 1.0;
    return Plane{point_of(point), side * normal.normalized()};
}

Datum lying_on(const TopoDS_Face& face) {
    const Plane plane = *plane_of(face);
    return Datum(plane.point, -plane.outward, longest_straight_direction(face));
}

Box3 box_in(const Datum& datum, const TopoDS_Shape& shape) {
    const Point3& o = datum.origin();
    const Vector3& n = datum.normal();
    const Vector3& x = datum.x();
    gp_Trsf to_frame;
    to_frame.SetTransformation(gp_Ax3(gp_Pnt(o.x(), o.y(), o.z()), gp_Dir(n.x(), n.y(), n.z()),
                                      gp_Dir(x.x(), x.y(), x.z())));
    return tight_box(shape.Moved(TopLoc_Location(to_frame)));
}

}  // namespace planform::model
