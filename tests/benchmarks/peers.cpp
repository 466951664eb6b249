#include "peers.hpp"

#include <BRepMesh_IncrementalMesh.hxx>
#include <BRepTools.hxx>
#include <BRep_Tool.hxx>
#include <HLRAlgo_Projector.hxx>
#include <HLRBRep_Algo.hxx>
#include <Poly_Triangulation.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <utility>
#include <vector>

#ifdef PLANFORM_HAS_CLIPPER
#include <clipper.hpp>
#endif

#include "stopwatch.hpp"

namespace benchmark {
namespace {

using Triangle = std::array<planform::Point2, 3>;

double doubled_area(const Triangle& t) { return planform::cross(t[1] - t[0], t[2] - t[0]); }

/// The triangles, projected; those that are seen edge-on left out.
std::vector<Triangle> project(const TopoDS_Shape& shape, const planform::Datum& datum, int& all) {
    std::vector<Triangle> result;
    for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next()) {
        TopLoc_Location location;
        const auto mesh = BRep_Tool::Triangulation(TopoDS::Face(faces.Current()), location);
        if (mesh.IsNull()) continue;
        const bool reversed = faces.Current().Orientation() == TopAbs_REVERSED;
        std::vector<planform::Point2> nodes;
        for (int i = 1; i <= mesh->NbNodes(); ++i) {
            const gp_Pnt p = mesh->Node(i).Transformed(location.Transformation());
            nodes.push_back(datum.to_datum({p.X(), p.Y(), p.Z()}).head<2>());
        }
        for (int i = 1; i <= mesh->NbTriangles(); ++i) {
            int a, b, c;
            mesh->Triangle(i).Get(a, b, c);
            if (reversed) std::swap(b, c);
            const Triangle t = {nodes[static_cast<std::size_t>(a - 1)],
                                nodes[static_cast<std::size_t>(b - 1)],
                                nodes[static_cast<std::size_t>(c - 1)]};
            ++all;
            if (doubled_area(t) != 0.0) result.push_back(t);
        }
    }
    return result;
}

#ifdef PLANFORM_HAS_CLIPPER
/// Area of Clipper's union, coordinates rounded to 1e-6 mm.
double union_area(const std::vector<Triangle>& triangles) {
    constexpr double scale = 1e6;
    ClipperLib::Clipper clipper;
    for (const Triangle& triangle : triangles) {
        ClipperLib::Path path;
        for (const planform::Point2& p : triangle)
            path << ClipperLib::IntPoint(std::llround(p.x() * scale), std::llround(p.y() * scale));
        clipper.AddPath(path, ClipperLib::ptSubject, true);
    }
    ClipperLib::Paths paths;
    clipper.Execute(ClipperLib::ctUnion, paths, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
    double area = 0.0;
    for (const ClipperLib::Path& path : paths) area += ClipperLib::Area(path);
    return area / (scale * scale);
}
#endif

}  // namespace

double hidden_line_removal(const TopoDS_Shape& shape, const planform::Datum& datum) {
    const auto& o = datum.origin();
    const auto n = datum.normal(), x = datum.x();
    const HLRAlgo_Projector projector(gp_Ax2(
        gp_Pnt(o.x(), o.y(), o.z()), gp_Dir(n.x(), n.y(), n.z()), gp_Dir(x.x(), x.y(), x.z())));
    return fastest([&] {
        const Handle(HLRBRep_Algo) algorithm = new HLRBRep_Algo;
        algorithm->Add(shape);
        algorithm->Projector(projector);
        algorithm->Update();
        algorithm->Hide();
    });
}

MeshUnion mesh_and_union(const TopoDS_Shape& shape, const planform::Datum& datum, double deflection,
                         int most_triangles) {
    MeshUnion result;
    result.mesh_milliseconds = fastest([&] {
        BRepTools::Clean(shape);
        BRepMesh_IncrementalMesh(shape, deflection, Standard_False, 0.5);
    });
    const std::vector<Triangle> triangles = project(shape, datum, result.triangles);
    BRepTools::Clean(shape);
#ifdef PLANFORM_HAS_CLIPPER
    if (result.triangles <= most_triangles) {
        std::vector<Triangle> facing;
        std::copy_if(triangles.begin(), triangles.end(), std::back_inserter(facing),
                     [](const Triangle& t) { return doubled_area(t) > 0.0; });
        // Clipper wants all of them counter-clockwise to unite them by winding numbers.
        std::vector<Triangle> turned = triangles;
        for (Triangle& t : turned)
            if (doubled_area(t) < 0.0) std::swap(t[1], t[2]);
        result.facing_milliseconds = fastest([&] { union_area(facing); });
        result.union_milliseconds = fastest([&] { result.area = union_area(turned); });
    }
#else
    (void)most_triangles;
#endif
    return result;
}

}  // namespace benchmark
