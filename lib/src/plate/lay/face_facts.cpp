#include "plate/lay/face_facts.hpp"

#include <BRepAdaptor_Surface.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Ax1.hxx>
#include <gp_Cone.hxx>
#include <gp_Cylinder.hxx>
#include <gp_Sphere.hxx>
#include <gp_Torus.hxx>

#include "model/kernel/points.hpp"
#include "model/measure/measure.hpp"

namespace planform::plate {

namespace {

/// Areas nearer than this share of the surface count as equal.
constexpr double equal_areas = 1e-7;

TurnAxis around(const gp_Ax1& axis) {
    return {model::from_kernel(axis.Location()), model::from_kernel(axis.Direction())};
}

std::optional<TurnAxis> turning_of(const BRepAdaptor_Surface& surface) {
    switch (surface.GetType()) {
        case GeomAbs_Cylinder:
            return around(surface.Cylinder().Axis());
        case GeomAbs_Cone:
            return around(surface.Cone().Axis());
        case GeomAbs_Torus:
            return around(surface.Torus().Axis());
        case GeomAbs_SurfaceOfRevolution:
            return around(surface.AxeOfRevolution());
        case GeomAbs_Sphere:
            return TurnAxis{model::from_kernel(surface.Sphere().Location()), Vector3::Zero()};
        default:
            return std::nullopt;
    }
}

std::optional<Cylinder> cylinder_of(const TopoDS_Face& face, const BRepAdaptor_Surface& surface) {
    if (surface.GetType() != GeomAbs_Cylinder) return std::nullopt;
    const gp_Cylinder cylinder = surface.Cylinder();
    // Of a right-handed cylinder dS/du x dS/dv points away from the axis.
    const bool outward = cylinder.Direct() == (face.Orientation() != TopAbs_REVERSED);
    return Cylinder{model::from_kernel(cylinder.Location()),
                    model::from_kernel(cylinder.Axis().Direction()), cylinder.Radius(), !outward,
                    surface.LastUParameter() - surface.FirstUParameter()};
}

}  // namespace

std::vector<FaceFacts> face_facts(const TopoDS_Shape& shape) {
    std::vector<FaceFacts> result;
    const TopTools_IndexedMapOfShape faces = model::parts_of(shape, TopAbs_FACE);
    for (int i = 1; i <= faces.Extent(); ++i) {
        const TopoDS_Face& face = TopoDS::Face(faces(i));
        const BRepAdaptor_Surface surface(face, Standard_True);
        result.push_back({face, i, model::face_area(face), model::plane_of(face),
                          cylinder_of(face, surface), turning_of(surface)});
    }
    return result;
}

double surface_area(const std::vector<FaceFacts>& faces) {
    double sum = 0.0;
    for (const FaceFacts& face : faces) sum += face.area;
    return sum;
}

std::vector<Facing> facings(const std::vector<FaceFacts>& faces) {
    std::vector<std::size_t> planar;
    for (std::size_t i = 0; i < faces.size(); ++i)
        if (faces[i].plane) planar.push_back(i);
    // Areas that differ by rounding keep the order of the faces: they are compared in steps.
    const double step = equal_areas * surface_area(faces);
    const auto size = [step](double area) { return std::llround(area / step); };
    // The largest first, so that it lends its normal to the group.
    std::stable_sort(planar.begin(), planar.end(), [&](std::size_t a, std::size_t b) {
        return size(faces[a].area) > size(faces[b].area);
    });
    std::vector<Facing> result;
    for (const std::size_t i : planar) {
        const Vector3& outward = faces[i].plane->outward;
        const auto group = std::find_if(result.begin(), result.end(), [&](const Facing& facing) {
            return (facing.outward - outward).norm() < same_direction;
        });
        Facing& facing =
            group != result.end() ? *group : result.emplace_back(Facing{outward, 0.0, {}});
        facing.area += faces[i].area;
        facing.faces.push_back(i);
    }
    std::stable_sort(result.begin(), result.end(),
                     [&](const Facing& a, const Facing& b) { return size(a.area) > size(b.area); });
    return result;
}

}  // namespace planform::plate
