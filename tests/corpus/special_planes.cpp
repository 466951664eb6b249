#include "special_planes.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRepGProp.hxx>
#include <BRepLProp_SLProps.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <GeomAbs_CurveType.hxx>
#include <TopExp.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <gp_Cone.hxx>
#include <gp_Cylinder.hxx>
#include <gp_Sphere.hxx>
#include <gp_Torus.hxx>
#include <optional>

#include "planform/occt.hpp"

namespace corpus {
namespace {

using planform::Datum;
using planform::Point3;
using planform::Solid;
using planform::Vector3;

Point3 number(const gp_Pnt& p) { return {p.X(), p.Y(), p.Z()}; }
Vector3 number(const gp_Dir& d) { return {d.X(), d.Y(), d.Z()}; }

std::optional<gp_Ax3> revolution(const BRepAdaptor_Surface& surface) {
    switch (surface.GetType()) {
        case GeomAbs_Cylinder:
            return surface.Cylinder().Position();
        case GeomAbs_Cone:
            return surface.Cone().Position();
        case GeomAbs_Sphere:
            return surface.Sphere().Position();
        case GeomAbs_Torus:
            return surface.Torus().Position();
        case GeomAbs_SurfaceOfRevolution: {
            const gp_Ax1 axis = surface.AxeOfRevolution();
            const gp_Pnt seam = surface.Value(surface.FirstUParameter(), surface.FirstVParameter());
            const gp_Vec across(axis.Location(), seam);
            if (across.Crossed(gp_Vec(axis.Direction())).Magnitude() < 1e-6)
                return gp_Ax3(axis.Location(), axis.Direction());
            return gp_Ax3(axis.Location(), axis.Direction(), gp_Dir(across));
        }
        default:
            return std::nullopt;
    }
}

/// The largest face of a kind, and what it is asked for.
struct Faces {
    std::optional<gp_Ax3> axis;
    std::optional<Datum> tangent, flat;
};

Faces largest_faces(const TopoDS_Shape& shape) {
    TopTools_IndexedMapOfShape faces;
    TopExp::MapShapes(shape, TopAbs_FACE, faces);
    Faces found;
    double axis_area = 0.0, curved_area = 0.0, flat_area = 0.0;
    for (int i = 1; i <= faces.Extent(); ++i) {
        const TopoDS_Face& face = TopoDS::Face(faces(i));
        GProp_GProps properties;
        BRepGProp::SurfaceProperties(face, properties, 1e-3);
        const double area = std::abs(properties.Mass());
        const BRepAdaptor_Surface surface(face);
        const bool is_flat = surface.GetType() == GeomAbs_Plane;
        const auto axis = revolution(surface);
        if (axis && area > axis_area) {
            axis_area = area;
            found.axis = axis;
        }
        double& largest = is_flat ? flat_area : curved_area;
        if (area <= largest) continue;
        const double u = 0.5 * (surface.FirstUParameter() + surface.LastUParameter());
        const double v = 0.5 * (surface.FirstVParameter() + surface.LastVParameter());
        BRepLProp_SLProps at(surface, u, v, 1, 1e-9);
        if (!at.IsNormalDefined()) continue;
        largest = area;
        (is_flat ? found.flat : found.tangent) = Datum(number(at.Value()), number(at.Normal()));
    }
    return found;
}

std::optional<Datum> along_edge(const TopoDS_Shape& shape, const Vector3& slanted) {
    TopTools_IndexedMapOfShape edges;
    TopExp::MapShapes(shape, TopAbs_EDGE, edges);
    std::optional<Datum> found;
    double longest = 1e-3;
    for (int i = 1; i <= edges.Extent(); ++i) {
        const TopoDS_Edge& edge = TopoDS::Edge(edges(i));
        if (BRep_Tool::Degenerated(edge)) continue;
        const BRepAdaptor_Curve curve(edge);
        if (curve.GetType() != GeomAbs_Line) continue;
        const double length = curve.LastParameter() - curve.FirstParameter();
        if (length <= longest) continue;
        longest = length;
        const Vector3 way = number(curve.Line().Direction());
        found = Datum(number(curve.Value(curve.FirstParameter())), way.cross(slanted));
    }
    return found;
}

}  // namespace

std::vector<std::pair<std::string, Datum>> special_planes(const Solid& solid) {
    // Normals in no special direction.
    const Vector3 slanted = Vector3(0.3791, 0.2213, 0.8984), steep(0.8127, -0.5341, 0.2329);
    const planform::Box3 box = solid.bounds();
    const TopoDS_Shape& shape = planform::shape_of(solid);
    std::vector<std::pair<std::string, Datum>> planes;
    planes.emplace_back("slanted", Datum(box.center(), slanted));
    planes.emplace_back("steep", Datum(box.center() + 0.0873 * box.sizes(), steep));
    const Faces faces = largest_faces(shape);
    if (faces.axis)
        planes.emplace_back("through an axis", Datum(number(faces.axis->Location()),
                                                     number(faces.axis->YDirection())));
    else if (const auto plane = along_edge(shape, slanted))
        planes.emplace_back("through an edge", *plane);
    TopTools_IndexedMapOfShape vertices;
    TopExp::MapShapes(shape, TopAbs_VERTEX, vertices);
    if (!vertices.IsEmpty()) {
        const TopoDS_Vertex& vertex = TopoDS::Vertex(vertices((vertices.Extent() + 1) / 2));
        planes.emplace_back("through a vertex", Datum(number(BRep_Tool::Pnt(vertex)), slanted));
    }
    if (faces.tangent)
        planes.emplace_back("tangent", *faces.tangent);
    else if (faces.flat)
        planes.emplace_back("in a flat face", *faces.flat);
    return planes;
}

}  // namespace corpus
