#include "model/measure/measure.hpp"

#include <BRepAdaptor_Surface.hxx>
#include <BRepGProp.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <cmath>
#include <optional>

#include "model/kernel/points.hpp"
#include "model/measure/face_integral.hpp"
#include "model/measure/mesh_integral.hpp"
#include "model/measure/strips.hpp"

namespace planform::model {

namespace {

/// Of a quick volume: the least share of the cones' sum that is sure not to have lost its sign, and
/// the largest vector area, as a share of the area, of a surface that is taken as closed.
constexpr double least_share = 0.05;
constexpr double nearly_closed = 0.01;

/// A point of the shape, about which integrals lose no digits wherever the shape lies.
Point3 apex_of(const TopoDS_Shape& shape) {
    const TopExp_Explorer vertices(shape, TopAbs_VERTEX);
    if (vertices.More()) return from_kernel(BRep_Tool::Pnt(TopoDS::Vertex(vertices.Current())));
    const TopExp_Explorer faces(shape, TopAbs_FACE);
    if (!faces.More()) return Point3::Zero();
    const BRepAdaptor_Surface surface(TopoDS::Face(faces.Current()));
    const auto place = [](double first, double last) {
        return Precision::IsInfinite(first) || Precision::IsInfinite(last) ? 0.0 : first;
    };
    const double u = place(surface.FirstUParameter(), surface.LastUParameter());
    const double v = place(surface.FirstVParameter(), surface.LastVParameter());
    return from_kernel(surface.Value(u, v));
}

/// A face whose inside contradicts its edges is integrated by its triangles.
FaceIntegral trusted_integral(const TopoDS_Face& face, const Point3& apex) {
    const std::optional<FaceIntegral> integral = integral_over(face, apex, Effort::volume);
    if (integral && integral->unexplained == 0.0) return *integral;
    return integral_over_mesh(face, apex);
}

template <class Integral>
FaceIntegral sum_over_faces(const TopoDS_Shape& shape, Integral&& integral) {
    const Point3 apex = apex_of(shape);
    FaceIntegral sum;
    for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next()) {
        const FaceIntegral one = integral(TopoDS::Face(faces.Current()), apex);
        sum.cone += one.cone;
        sum.vector_area += one.vector_area;
        sum.area += one.area;
    }
    return sum;
}

/// Nothing if a face can't be integrated, if the cones cancel so far that they may have lost the
/// sign, or if the faces don't close.
std::optional<double> quick_volume(const TopoDS_Shape& shape) {
    bool is_whole = true;
    double cones = 0.0;
    const FaceIntegral sum =
        sum_over_faces(shape, [&](const TopoDS_Face& face, const Point3& apex) {
            std::optional<FaceIntegral> one;
            if (is_whole) one = integral_over(face, apex, Effort::quick);
            if (!one) is_whole = false;
            if (one) cones += std::abs(one->cone);
            return one.value_or(FaceIntegral());
        });
    if (!is_whole || !(std::abs(sum.cone) > least_share * cones)) return std::nullopt;
    if (!(sum.vector_area.norm() <= nearly_closed * sum.area)) return std::nullopt;
    return sum.cone;
}

}  // namespace

double face_area(const TopoDS_Face& face) {
    const std::optional<FaceIntegral> integral = integral_over(face, apex_of(face), Effort::area);
    if (integral) return integral->area;
    GProp_GProps properties;
    BRepGProp::SurfaceProperties(face, properties);
    return properties.Mass();
}

double volume_of(const TopoDS_Shape& shape) { return sum_over_faces(shape, trusted_integral).cone; }

double signed_cone(const TopoDS_Face& face, const Point3& apex) {
    return trusted_integral(face, apex).cone;
}

double mesh_volume_of(const TopoDS_Shape& shape) {
    return sum_over_faces(shape, integral_over_mesh).cone;
}

double rough_volume(const TopoDS_Shape& shape) {
    const std::optional<double> quick = quick_volume(shape);
    return quick ? *quick : volume_of(shape);
}

}  // namespace planform::model
