#include "model/measure.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRepGProp.hxx>
#include <BRepGProp_Domain.hxx>
#include <BRepGProp_Face.hxx>
#include <BRepGProp_Vinert.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <array>
#include <cmath>
#include <gp.hxx>
#include <gp_Pln.hxx>
#include <utility>
#include <vector>

#include "model/solid_data.hpp"

namespace planform::model {

namespace {

/// Nodes and weights of the Gauss-Legendre rule with 8 points on [-1, 1], the positive half
/// (Abramowitz and Stegun, Handbook of Mathematical Functions, table 25.4; from memory, and held by
/// the tests' closed forms). Exact for polynomials of degree 15.
constexpr std::array<std::pair<double, double>, 4> gauss_8 = {
    {{0.1834346424956498, 0.3626837833783620},
     {0.5255324099163290, 0.3137066458778873},
     {0.7966664774136267, 0.2223810344533745},
     {0.9602898564975363, 0.1012285362903763}}};

/// Parameters between which a curve is one smooth piece that turns by at most an eighth of a
/// circle.
std::vector<double> pieces_of(const BRepAdaptor_Curve& curve) {
    TColStd_Array1OfReal knots(1, curve.NbIntervals(GeomAbs_CN) + 1);
    curve.Intervals(knots, GeomAbs_CN);
    const int parts = curve.GetType() == GeomAbs_Line ? 1 : 8;
    std::vector<double> parameters{knots.First()};
    for (int i = knots.Lower(); i < knots.Upper(); ++i) {
        for (int part = 1; part <= parts; ++part) {
            parameters.push_back(knots(i) + (knots(i + 1) - knots(i)) * part / parts);
        }
    }
    return parameters;
}

/// Half the integral of normal . (P - origin) x dP along an edge, in the direction of its curve.
double swept_area(const BRepAdaptor_Curve& curve, const gp_Pln& plane) {
    const gp_Pnt origin = plane.Location();
    const gp_Vec normal(plane.Axis().Direction());
    const std::vector<double> parameters = pieces_of(curve);
    double sum = 0.0;
    for (size_t i = 0; i + 1 < parameters.size(); ++i) {
        const double middle = (parameters[i] + parameters[i + 1]) / 2.0;
        const double half = (parameters[i + 1] - parameters[i]) / 2.0;
        for (const auto& [node, weight] : gauss_8) {
            for (const double sign : {-1.0, 1.0}) {
                gp_Pnt point;
                gp_Vec tangent;
                curve.D1(middle + sign * node * half, point, tangent);
                sum += weight * half * normal.Dot(gp_Vec(origin, point).Crossed(tangent)) / 2.0;
            }
        }
    }
    return sum;
}

double planar_area(const TopoDS_Face& face, const gp_Pln& plane) {
    double area = 0.0;
    for (TopExp_Explorer edges(face.Oriented(TopAbs_FORWARD), TopAbs_EDGE); edges.More();
         edges.Next()) {
        const TopoDS_Edge& edge = TopoDS::Edge(edges.Current());
        const bool forward = edge.Orientation() == TopAbs_FORWARD;
        if ((!forward && edge.Orientation() != TopAbs_REVERSED) || BRep_Tool::Degenerated(edge)) {
            continue;
        }
        area += (forward ? 1.0 : -1.0) * swept_area(BRepAdaptor_Curve(edge), plane);
    }
    return std::abs(area);
}

/// Signed volume between the origin and a face, by the kernel's Gauss rule.
double curved_cone(const TopoDS_Face& face) {
    BRepGProp_Face surface(face);
    BRepGProp_Domain domain(face);
    return BRepGProp_Vinert(surface, domain, gp::Origin(), gp::Origin()).Mass();
}

/// Volume by the divergence theorem, a cone from the origin for each face: of a planar face a third
/// of its area times its distance; of all others by the kernel's Gauss rule, which is good on them,
/// but off by 1e-5 on planes bounded by splines.
double divergence_volume(const TopoDS_Shape& shape) {
    double volume = 0.0;
    for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next()) {
        const TopoDS_Face& face = TopoDS::Face(faces.Current());
        const BRepAdaptor_Surface surface(face, Standard_False);
        if (surface.GetType() != GeomAbs_Plane) {
            volume += curved_cone(face);
            continue;
        }
        const gp_Pln plane = surface.Plane();
        const double side =
            (face.Orientation() == TopAbs_REVERSED ? -1.0 : 1.0) * (plane.Direct() ? 1.0 : -1.0);
        const gp_Vec normal(plane.Axis().Direction());
        volume += side * normal.Dot(gp_Vec(gp::Origin(), plane.Location())) *
                  planar_area(face, plane) / 3.0;
    }
    return volume;
}

}  // namespace

double face_area(const TopoDS_Face& face) {
    const BRepAdaptor_Surface surface(face, Standard_False);
    if (surface.GetType() == GeomAbs_Plane) return planar_area(face, surface.Plane());
    GProp_GProps properties;
    BRepGProp::SurfaceProperties(face, properties);
    return properties.Mass();
}

double rough_volume(const TopoDS_Shape& shape) {
    GProp_GProps properties;
    BRepGProp::VolumeProperties(shape, properties);
    return properties.Mass();
}

double Mass::volume(const TopoDS_Shape& shape) const {
    std::call_once(volume_once_,
                   [&] { volume_ = measured("volume", [&] { return divergence_volume(shape); }); });
    return volume_;
}

double Mass::surface_area(const TopoDS_Shape& shape) const {
    std::call_once(area_once_, [&] {
        area_ = measured("surface area", [&] {
            double area = 0.0;
            for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next()) {
                area += face_area(TopoDS::Face(faces.Current()));
            }
            return area;
        });
    });
    return area_;
}

}  // namespace planform::model
