#include "flatten/mesh_oracle.hpp"

#include <BRepGProp.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRepTools.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <IntCurvesFace_ShapeIntersector.hxx>
#include <Poly_Triangulation.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <array>
#include <cmath>
#include <gp_Lin.hxx>
#include <utility>
#include <vector>

namespace oracle {
namespace {

using planform::Point2;
using Triangle = std::array<Point2, 3>;

std::vector<Triangle> projected(const TopoDS_Shape& shape, const planform::Datum& datum) {
    const double c = std::cos(0.7345), s = std::sin(0.7345);  // any angle without meaning
    std::vector<Triangle> result;
    for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next()) {
        TopLoc_Location location;
        const auto mesh = BRep_Tool::Triangulation(TopoDS::Face(faces.Current()), location);
        if (mesh.IsNull()) continue;
        for (int i = 1; i <= mesh->NbTriangles(); ++i) {
            std::array<int, 3> n{};
            mesh->Triangle(i).Get(n[0], n[1], n[2]);
            Triangle t;
            for (std::size_t k = 0; k < 3; ++k) {
                const gp_Pnt p = mesh->Node(n[k]).Transformed(location.Transformation());
                const Point2 q = datum.to_datum({p.X(), p.Y(), p.Z()}).head<2>();
                t[k] = {c * q.x() - s * q.y(), s * q.x() + c * q.y()};
            }
            result.push_back(t);
        }
    }
    return result;
}

double scanned(const std::vector<Triangle>& triangles, int lines) {
    double low = 1e300, high = -1e300;
    for (const Triangle& t : triangles)
        for (const Point2& p : t) {
            low = std::min(low, p.y());
            high = std::max(high, p.y());
        }
    const double step = (high - low) / lines;
    std::vector<std::vector<std::pair<double, double>>> spans(static_cast<std::size_t>(lines));
    for (const Triangle& t : triangles) {
        const auto [bottom, top] = std::minmax({t[0].y(), t[1].y(), t[2].y()});
        const int first = std::max(0, static_cast<int>(std::ceil((bottom - low) / step - 0.5)));
        const int last =
            std::min(lines - 1, static_cast<int>(std::floor((top - low) / step - 0.5)));
        for (int line = first; line <= last; ++line) {
            const double y = low + (line + 0.5) * step;
            double left = 1e300, right = -1e300;
            for (std::size_t k = 0; k < 3; ++k) {
                const Point2 &a = t[k], &b = t[(k + 1) % 3];
                if ((a.y() <= y) == (b.y() <= y)) continue;
                const double x = a.x() + (y - a.y()) / (b.y() - a.y()) * (b.x() - a.x());
                left = std::min(left, x);
                right = std::max(right, x);
            }
            if (left < right) spans[static_cast<std::size_t>(line)].emplace_back(left, right);
        }
    }
    double length = 0.0;
    for (auto& line : spans) {
        std::sort(line.begin(), line.end());
        double reached = -1e300;
        for (const auto& [left, right] : line) {
            length += std::max(0.0, right - std::max(left, reached));
            reached = std::max(reached, right);
        }
    }
    return length * step;
}

}  // namespace

Area shadow_area(const TopoDS_Shape& shape, const planform::Datum& datum, double deflection) {
    BRepTools::Clean(shape);
    BRepMesh_IncrementalMesh(shape, deflection, Standard_False, 0.2);
    const std::vector<Triangle> triangles = projected(shape, datum);
    if (triangles.empty()) return {};
    const double coarse = scanned(triangles, 701), fine = scanned(triangles, 1499);
    return {fine, std::abs(fine - coarse) + 1e-5 * fine};
}

bool mesh_covers_all_faces(const TopoDS_Shape& shape) {
    for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next()) {
        const TopoDS_Face& face = TopoDS::Face(faces.Current());
        TopLoc_Location location;
        const auto mesh = BRep_Tool::Triangulation(face, location);
        double area = 0.0;
        for (int i = 1; !mesh.IsNull() && i <= mesh->NbTriangles(); ++i) {
            std::array<int, 3> n{};
            mesh->Triangle(i).Get(n[0], n[1], n[2]);
            const gp_Vec a(mesh->Node(n[0]), mesh->Node(n[1]));
            const gp_Vec b(mesh->Node(n[0]), mesh->Node(n[2]));
            area += 0.5 * a.Crossed(b).Magnitude();
        }
        GProp_GProps exact;
        BRepGProp::SurfaceProperties(face, exact);
        if (std::abs(area - exact.Mass()) > 0.02 * std::abs(exact.Mass()) + 0.05) return false;
    }
    return true;
}

Area ray_area(const TopoDS_Shape& shape, const planform::Datum& datum, const planform::Box2& box) {
    constexpr int steps = 60;
    IntCurvesFace_ShapeIntersector rays;
    rays.Load(shape, 1e-7);
    int hits = 0;
    for (int i = 0; i < steps; ++i)
        for (int j = 0; j < steps; ++j) {
            // Off the middle of each cell: whole numbers are where the solids have their edges.
            const planform::Vector2 share((i + 0.4321) / steps, (j + 0.5123) / steps);
            const Point2 p = box.min() + share.cwiseProduct(box.sizes());
            const planform::Point3 from =
                datum.origin() + p.x() * datum.x() + p.y() * datum.y() - 1000.0 * datum.normal();
            const gp_Dir along(datum.normal().x(), datum.normal().y(), datum.normal().z());
            rays.Perform(gp_Lin(gp_Pnt(from.x(), from.y(), from.z()), along), 0.0, 2000.0);
            if (rays.NbPnt() > 0) ++hits;
        }
    const double cell = box.sizes().prod() / (steps * steps);
    return {hits * cell, box.sizes().maxCoeff() / steps};
}

}  // namespace oracle
