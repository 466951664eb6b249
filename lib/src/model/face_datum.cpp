#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRep_Tool.hxx>
#include <GeomLib_IsPlanarSurface.hxx>
#include <Standard_Failure.hxx>
#include <TopExp.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <gp_Ax3.hxx>
#include <optional>

#include "model/bounds.hpp"
#include "model/kernel.hpp"
#include "model/measure.hpp"
#include "planform/error.hpp"
#include "planform/occt.hpp"

namespace planform {

namespace {

/// Areas and lengths nearer than this, relative, count as equal: mirrored faces differ by rounding
/// only.
constexpr double tie = 1e-6;
/// A spline surface counts as planar within this distance, mm: the kernel's confusion.
constexpr double planar_within = 1e-7;

struct Plane {
    Point3 point;
    Vector3 outward;  ///< Unit normal, out of the material.
};

Point3 point_of(const gp_Pnt& point) { return {point.X(), point.Y(), point.Z()}; }
Vector3 vector_of(const gp_Vec& vector) { return {vector.X(), vector.Y(), vector.Z()}; }

bool is_planar(const TopoDS_Face& face) {
    if (BRepAdaptor_Surface(face, Standard_False).GetType() == GeomAbs_Plane) return true;
    const Handle(Geom_Surface) surface = BRep_Tool::Surface(face);
    return !surface.IsNull() && GeomLib_IsPlanarSurface(surface, planar_within).IsPlanar();
}

/// The plane of a face, if it is planar.
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

TopTools_IndexedMapOfShape parts_of(const TopoDS_Shape& shape, TopAbs_ShapeEnum kind) {
    TopTools_IndexedMapOfShape parts;
    TopExp::MapShapes(shape, kind, parts);
    return parts;
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

/// The same plane with its origin in the lower left corner of the shape's shadow box.
Datum at_lower_left(const Datum& datum, const TopoDS_Shape& shape) {
    const Point3& o = datum.origin();
    const Vector3& n = datum.normal();
    const Vector3& x = datum.x();
    gp_Trsf to_frame;
    to_frame.SetTransformation(gp_Ax3(gp_Pnt(o.x(), o.y(), o.z()), gp_Dir(n.x(), n.y(), n.z()),
                                      gp_Dir(x.x(), x.y(), x.z())));
    const Box3 box = model::tight_box(shape.Moved(TopLoc_Location(to_frame)));
    return Datum(datum.to_model({box.min().x(), box.min().y()}), n, x);
}

/// Runs `body`; an exception of the kernel becomes a GeometryError that names the solid.
template <class Body>
Datum guarded(const Solid& solid, Body&& body) {
    try {
        return body();
    } catch (const Standard_Failure& failure) {
        throw GeometryError(ErrorKind::kernel_failure,
                            "solid '" + solid.name() + "': the kernel can't look at its faces (" +
                                model::describe_failure(failure) +
                                "); repair the solid where it was drawn");
    }
}

Datum datum_of_face(const Solid& solid, int number) {
    const TopTools_IndexedMapOfShape faces = parts_of(shape_of(solid), TopAbs_FACE);
    const std::string which = "solid '" + solid.name() + "': face " + std::to_string(number);
    if (number < 1 || number > faces.Extent()) {
        throw GeometryError(ErrorKind::invalid_argument,
                            which + " does not exist; faces have the numbers 1 to " +
                                std::to_string(faces.Extent()));
    }
    const std::optional<Plane> plane = plane_of(TopoDS::Face(faces(number)));
    if (!plane) {
        throw GeometryError(ErrorKind::invalid_argument,
                            which + " is not planar; name a planar face or give origin and normal");
    }
    return Datum(plane->point.dot(plane->outward) * plane->outward, plane->outward);
}

/// The largest planar face; ties go to the lower number.
std::optional<TopoDS_Face> largest_planar_face(const TopoDS_Shape& shape) {
    std::optional<TopoDS_Face> best;
    double largest = 0.0;
    const TopTools_IndexedMapOfShape faces = parts_of(shape, TopAbs_FACE);
    for (int i = 1; i <= faces.Extent(); ++i) {
        const TopoDS_Face& face = TopoDS::Face(faces(i));
        if (!plane_of(face)) continue;
        const double area = model::face_area(face);
        if (area <= largest * (1.0 + tie)) continue;
        largest = area;
        best = face;
    }
    return best;
}

}  // namespace

Datum face_datum(const Solid& solid, int face) {
    return guarded(solid, [&] { return datum_of_face(solid, face); });
}

Datum auto_datum(const Solid& solid) {
    return guarded(solid, [&] {
        const std::optional<TopoDS_Face> face = largest_planar_face(shape_of(solid));
        if (!face) {
            throw GeometryError(
                ErrorKind::invalid_argument,
                "solid '" + solid.name() + "' has no planar face to lie on; give a datum, e.g. xy");
        }
        const Plane plane = *plane_of(*face);
        const Datum datum(plane.point, -plane.outward, longest_straight_direction(*face));
        return at_lower_left(datum, shape_of(solid));
    });
}

}  // namespace planform
