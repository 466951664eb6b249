#include <BRepBuilderAPI_Copy.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Tool.hxx>
#include <Poly_Triangulation.hxx>
#include <Standard_Failure.hxx>
#include <TopExp_Explorer.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS.hxx>
#include <cmath>
#include <string>
#include <utility>

#include "model/kernel/points.hpp"
#include "planform/error.hpp"
#include "planform/mesh.hpp"
#include "planform/occt.hpp"

namespace planform {

namespace {

/// Triangles turn by so much, rad: round enough to be looked at.
constexpr double surface_mesh_angle = 0.3;

void add_face(const TopoDS_Face& face, const std::string& what, SurfaceMesh& mesh) {
    TopLoc_Location location;
    const Handle(Poly_Triangulation) triangles = BRep_Tool::Triangulation(face, location);
    if (triangles.IsNull())
        throw GeometryError(ErrorKind::kernel_failure, what + " can't be made triangles of");
    const auto first = static_cast<std::uint32_t>(mesh.points.size());
    for (int i = 1; i <= triangles->NbNodes(); ++i)
        mesh.points.push_back(model::from_kernel(triangles->Node(i).Transformed(location)));
    const bool is_reversed = face.Orientation() == TopAbs_REVERSED;
    // A placement that mirrors turns the triangles over as well.
    const bool is_mirrored = location.Transformation().IsNegative();
    for (int i = 1; i <= triangles->NbTriangles(); ++i) {
        int a = 0, b = 0, c = 0;
        triangles->Triangle(i).Get(a, b, c);
        if (is_reversed != is_mirrored) std::swap(b, c);
        mesh.triangles.push_back({first + static_cast<std::uint32_t>(a - 1),
                                  first + static_cast<std::uint32_t>(b - 1),
                                  first + static_cast<std::uint32_t>(c - 1)});
    }
}

}  // namespace

SurfaceMesh surface_mesh(const Solid& solid, double tolerance) {
    if (!std::isfinite(tolerance) || tolerance <= 0.0)
        throw GeometryError(ErrorKind::invalid_argument,
                            "the tolerance of a mesh is no finite number of mm above 0");
    SurfaceMesh mesh;
    try {
        // The kernel keeps triangles in the shape: a solid stays as it is.
        const TopoDS_Shape copy = BRepBuilderAPI_Copy(shape_of(solid)).Shape();
        BRepMesh_IncrementalMesh(copy, tolerance, Standard_False, surface_mesh_angle);
        int number = 1;
        for (TopExp_Explorer faces(copy, TopAbs_FACE); faces.More(); faces.Next(), ++number)
            add_face(TopoDS::Face(faces.Current()),
                     "solid '" + solid.name() + "', face " + std::to_string(number), mesh);
    } catch (const Standard_Failure&) {
        throw GeometryError(ErrorKind::kernel_failure,
                            "solid '" + solid.name() + "' can't be made triangles of");
    }
    return mesh;
}

}  // namespace planform
