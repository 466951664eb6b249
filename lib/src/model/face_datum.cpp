#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRep_Tool.hxx>
#include <GeomLib_IsPlanarSurface.hxx>
#include <Standard_Failure.hxx>
#include <TopExp.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Ax3.hxx>
#include <optional>
#include <span>
#include <vector>

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

/// Tight box of a shape in the frame of a datum.
Box3 box_in(const Datum& datum, const TopoDS_Shape& shape) {
    const Point3& o = datum.origin();
    const Vector3& n = datum.normal();
    const Vector3& x = datum.x();
    gp_Trsf to_frame;
    to_frame.SetTransformation(gp_Ax3(gp_Pnt(o.x(), o.y(), o.z()), gp_Dir(n.x(), n.y(), n.z()),
                                      gp_Dir(x.x(), x.y(), x.z())));
    return model::tight_box(shape.Moved(TopLoc_Location(to_frame)));
}

/// Runs `body`; an exception of the kernel becomes a GeometryError that names the solid.
template <class Body>
auto guarded(const Solid& solid, Body&& body) {
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

struct PlanarFace {
    TopoDS_Face face;
    double area = 0.0;
};

/// The largest planar face; ties go to the lower number.
std::optional<PlanarFace> largest_planar_face(const TopoDS_Shape& shape) {
    std::optional<PlanarFace> best;
    const TopTools_IndexedMapOfShape faces = parts_of(shape, TopAbs_FACE);
    for (int i = 1; i <= faces.Extent(); ++i) {
        const TopoDS_Face& face = TopoDS::Face(faces(i));
        if (!plane_of(face)) continue;
        const double area = model::face_area(face);
        if (best && area <= best->area * (1.0 + tie)) continue;
        best = PlanarFace{face, area};
    }
    return best;
}

/// The plane of a face, turned so that the part lies on it.
Datum lying_on(const TopoDS_Face& face) {
    const Plane plane = *plane_of(face);
    return Datum(plane.point, -plane.outward, longest_straight_direction(face));
}

/// May the solid lie between two heights over a datum? A quick answer by the corners of its box.
bool may_lie_between(const Solid& solid, const Datum& datum, double low, double high) {
    const Box3 box = solid.bounds();
    double least = INFINITY, most = -INFINITY;
    for (int i = 0; i < 8; ++i) {
        const double height = datum.to_datum(box.corner(static_cast<Box3::CornerType>(i))).z();
        least = std::min(least, height);
        most = std::max(most, height);
    }
    return least <= high && most >= low;
}

/// Heights are compared with this slack, mm.
constexpr double same_height = 1e-6;

bool lies_between(const Solid& solid, const Datum& datum, double low, double high) {
    if (!may_lie_between(solid, datum, low, high)) return false;
    const Box3 box = box_in(datum, shape_of(solid));
    return box.min().z() >= low - same_height && box.max().z() <= high + same_height;
}

}  // namespace

Datum face_datum(const Solid& solid, int face) {
    return guarded(solid, [&] { return datum_of_face(solid, face); });
}

Datum auto_datum(const Solid& solid) { return auto_datum(std::span(&solid, 1)); }

Datum auto_datum(std::span<const Solid> solids) {
    if (solids.empty())
        throw GeometryError(ErrorKind::invalid_argument, "a datum needs at least one solid");
    return guarded(solids.front(), [&] {
        std::optional<PlanarFace> best;
        for (const Solid& solid : solids) {
            const auto face = largest_planar_face(shape_of(solid));
            if (face && (!best || face->area > best->area * (1.0 + tie))) best = face;
        }
        if (!best) {
            throw GeometryError(ErrorKind::invalid_argument,
                                "solid '" + solids.front().name() +
                                    "' has no planar face to lie on; give a datum, e.g. xy");
        }
        const Datum datum = lying_on(best->face);
        Box3 box;
        for (const Solid& solid : solids) box.extend(box_in(datum, shape_of(solid)));
        return Datum(datum.to_model({box.min().x(), box.min().y()}), datum.normal(), datum.x());
    });
}

std::vector<std::vector<int>> coplanar_groups(std::span<const Solid> solids) {
    struct Flat {
        int index;
        std::optional<PlanarFace> face;
    };
    std::vector<Flat> left;
    for (std::size_t i = 0; i < solids.size(); ++i)
        left.push_back({static_cast<int>(i), guarded(solids[i], [&] {
                            return largest_planar_face(shape_of(solids[i]));
                        })});
    std::stable_sort(left.begin(), left.end(), [](const Flat& a, const Flat& b) {
        return (a.face ? a.face->area : 0.0) > (b.face ? b.face->area : 0.0);
    });
    std::vector<std::vector<int>> groups;
    while (!left.empty()) {
        const Flat leader = left.front();
        left.erase(left.begin());
        std::vector<int> group{leader.index};
        if (leader.face) {
            const Solid& largest = solids[static_cast<std::size_t>(leader.index)];
            guarded(largest, [&] {
                const Datum datum = lying_on(leader.face->face);
                const Box3 slab = box_in(datum, shape_of(largest));
                const auto taken =
                    std::stable_partition(left.begin(), left.end(), [&](const Flat& other) {
                        return !lies_between(solids[static_cast<std::size_t>(other.index)], datum,
                                             slab.min().z(), slab.max().z());
                    });
                for (auto other = taken; other != left.end(); ++other)
                    group.push_back(other->index);
                left.erase(taken, left.end());
                return true;
            });
        }
        std::sort(group.begin(), group.end());
        groups.push_back(std::move(group));
    }
    std::sort(groups.begin(), groups.end());
    return groups;
}

}  // namespace planform
