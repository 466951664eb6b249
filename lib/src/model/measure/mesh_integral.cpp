#include "model/measure/mesh_integral.hpp"

#include <BRepBuilderAPI_Copy.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Tool.hxx>
#include <Poly_Triangulation.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS.hxx>
#include <algorithm>

#include "model/kernel/points.hpp"
#include "model/measure/bounds.hpp"
#include "model/measure/strips.hpp"

namespace planform::model {

namespace {

/// Triangles stray from the face by this share of its size, and turn by this angle, rad, at most.
constexpr double mesh_share = 1e-4;
constexpr double mesh_angle = 0.1;

}  // namespace

FaceIntegral integral_over_mesh(const TopoDS_Face& face, const Point3& apex) {
    FaceIntegral result;
    const TopoDS_Face copy = TopoDS::Face(BRepBuilderAPI_Copy(face).Shape());
    const Box3 box = tight_box(copy);
    if (box.isEmpty()) return result;
    BRepMesh_IncrementalMesh(copy, mesh_share * box.diagonal().norm(), Standard_False, mesh_angle);
    TopLoc_Location location;
    const Handle(Poly_Triangulation) mesh = BRep_Tool::Triangulation(copy, location);
    if (mesh.IsNull()) return result;
    const double side = copy.Orientation() == TopAbs_REVERSED ? -1.0 : 1.0;
    for (int i = 1; i <= mesh->NbTriangles(); ++i) {
        int numbers[3];
        mesh->Triangle(i).Get(numbers[0], numbers[1], numbers[2]);
        Vector3 corners[3];
        for (const int k : {0, 1, 2})
            corners[k] = from_kernel(mesh->Node(numbers[k]).Transformed(location)) - apex;
        const Vector3 area = 0.5 * side * (corners[1] - corners[0]).cross(corners[2] - corners[0]);
        result.cone += corners[0].dot(area) / 3.0;
        result.vector_area += area;
        result.area += area.norm();
    }
    return result;
}

}  // namespace planform::model
