#include "features/closed_form.hpp"

#include <BRep_Tool.hxx>
#include <Eigen/LU>
#include <GeomAdaptor_Surface.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_ToroidalSurface.hxx>
#include <ShapeCustom_Surface.hxx>
#include <Standard_Failure.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Cone.hxx>
#include <gp_Cylinder.hxx>
#include <gp_Pln.hxx>
#include <gp_Sphere.hxx>
#include <gp_Torus.hxx>
#include <vector>

#include "model/kernel/points.hpp"
#include "solid/face_lean.hpp"

namespace planform::features {
namespace {

using solid::FaceSample;

/// A spline is a closed form within this, mm: ten times the confusion of common solid modellers.
constexpr double recognised_within = 1e-6;

void take(const GeomAdaptor_Surface& surface, const gp_Trsf& placement, FaceView& view) {
    const auto set_axis = [&view](const gp_Pnt& on_axis, const gp_Dir& axis) {
        view.on_axis = model::from_kernel(on_axis);
        view.axis = model::from_kernel(axis);
    };
    switch (surface.GetType()) {
        case GeomAbs_Plane: {
            const gp_Pln plane = surface.Plane().Transformed(placement);
            set_axis(plane.Location(), plane.Axis().Direction());
            break;
        }
        case GeomAbs_Cylinder: {
            const gp_Cylinder cylinder = surface.Cylinder().Transformed(placement);
            set_axis(cylinder.Location(), cylinder.Axis().Direction());
            view.radius = cylinder.Radius();
            break;
        }
        case GeomAbs_Cone: {
            const gp_Cone cone = surface.Cone().Transformed(placement);
            set_axis(cone.Apex(), cone.Axis().Direction());
            view.half_angle = std::abs(cone.SemiAngle());
            break;
        }
        case GeomAbs_Sphere: {
            const gp_Sphere sphere = surface.Sphere().Transformed(placement);
            set_axis(sphere.Location(), sphere.Position().Direction());
            view.radius = sphere.Radius();
            break;
        }
        case GeomAbs_Torus: {
            const gp_Torus torus = surface.Torus().Transformed(placement);
            set_axis(torus.Location(), torus.Axis().Direction());
            view.radius = torus.MinorRadius();
            view.ring = torus.MajorRadius();
            break;
        }
        default:
            return;
    }
    view.kind = surface.GetType();
}

/// Distance of a place from the closed form of a view.
double distance(const FaceView& view, const Point3& place) {
    const Vector3 way = place - view.on_axis;
    const double along = way.dot(view.axis), across = (way - along * view.axis).norm();
    switch (view.kind) {
        case GeomAbs_Plane:
            return std::abs(along);
        case GeomAbs_Cylinder:
            return std::abs(across - view.radius);
        case GeomAbs_Cone:
            return std::abs(across * std::cos(view.half_angle) -
                            std::abs(along) * std::sin(view.half_angle));
        case GeomAbs_Sphere:
            return std::abs(way.norm() - view.radius);
        default:
            return std::abs(std::hypot(across - view.ring, along) - view.radius);
    }
}

/// Samples with normals as different as can be: the first, the one that is turned most across it,
/// and the one furthest out of the plane of both; sines of both angles.
struct Spread {
    FaceSample first, second, third;
    double turn = 0.0;
    double out_of_plane = 0.0;
};

Spread spread_of(const std::vector<FaceSample>& samples) {
    Spread spread{samples.front(), samples.front(), samples.front()};
    const Vector3& n = spread.first.normal;
    for (const FaceSample& sample : samples)
        if (const double turn = n.cross(sample.normal).norm(); turn > spread.turn) {
            spread.second = sample;
            spread.turn = turn;
        }
    const Vector3 across = n.cross(spread.second.normal);
    for (const FaceSample& sample : samples)
        if (std::abs(sample.normal.dot(across)) > spread.out_of_plane) {
            spread.third = sample;
            spread.out_of_plane = std::abs(sample.normal.dot(across));
        }
    return spread;
}

/// Normals of a sphere, and across a cylinder's axis those of the cylinder, are the ways from the
/// centre but for the radius: so two places and their normals give both. Center of two.
Point3 center_of(const FaceSample& a, const FaceSample& b, const Vector3& axis, FaceView& found) {
    const auto across = [&axis](const Vector3& v) { return Vector3(v - v.dot(axis) * axis); };
    const Vector3 way = across(a.place - b.place), turn = across(a.normal - b.normal);
    found.radius = way.norm() / turn.norm();
    return a.place - (way.dot(turn) < 0.0 ? -1.0 : 1.0) * found.radius * a.normal;
}

FaceView as_sphere(const Spread& s, FaceView view) {
    view.kind = GeomAbs_Sphere;
    view.on_axis = center_of(s.first, s.second, Vector3::Zero(), view);
    return view;
}

FaceView as_cylinder(const Spread& s, FaceView view) {
    view.kind = GeomAbs_Cylinder;
    view.axis = s.first.normal.cross(s.second.normal).normalized();
    view.on_axis = center_of(s.first, s.second, view.axis, view);
    return view;
}

/// Tangent planes of a cone meet in its apex; its normals have one angle to the axis.
FaceView as_cone(const Spread& s, FaceView view) {
    view.kind = GeomAbs_Cone;
    Eigen::Matrix3d normals;
    Vector3 levels;
    int row = 0;
    for (const FaceSample* sample : {&s.first, &s.second, &s.third}) {
        normals.row(row) = sample->normal;
        levels[row++] = sample->normal.dot(sample->place);
    }
    view.on_axis = normals.fullPivLu().solve(levels);
    view.axis =
        (s.first.normal - s.second.normal).cross(s.first.normal - s.third.normal).normalized();
    view.half_angle = std::asin(std::min(1.0, std::abs(s.first.normal.dot(view.axis))));
    return view;
}

FaceView as_plane(const Spread& s, FaceView view) {
    view.kind = GeomAbs_Plane;
    view.on_axis = s.first.place;
    view.axis = s.first.normal;
    return view;
}

/// A torus, if the kernel finds that a spline is one.
FaceView as_torus(const solid::SectionSolid& solid, std::size_t face, FaceView view) {
    TopLoc_Location location;
    const Handle(Geom_Surface) spline =
        BRep_Tool::Surface(solid.graph().faces[face].shape, location);
    if (!spline->IsKind(STANDARD_TYPE(Geom_BSplineSurface))) return view;
    ShapeCustom_Surface custom(spline);
    const Handle(Geom_Surface) form = custom.ConvertToAnalytical(recognised_within, false);
    if (!form.IsNull() && form->IsKind(STANDARD_TYPE(Geom_ToroidalSurface)))
        take(GeomAdaptor_Surface(form),
             solid.graph().placement.Multiplied(location.Transformation()), view);
    return view;
}

}  // namespace

void read_closed_form(const solid::SectionSolid& solid, std::size_t face, FaceView& view) {
    TopLoc_Location location;
    const Handle(Geom_Surface) surface =
        BRep_Tool::Surface(solid.graph().faces[face].shape, location);
    take(GeomAdaptor_Surface(surface),
         solid.graph().placement.Multiplied(location.Transformation()), view);
}

void recognise(const solid::SectionSolid& solid, std::size_t face, FaceView& view) {
    if (view.kind != GeomAbs_OtherSurface) return;
    const std::vector<FaceSample> samples = solid::face_samples(solid, face);
    if (samples.size() < 3) return;
    const Spread spread = spread_of(samples);
    constexpr double flat = 1e-9, turned = 1e-3;  // sines of angles between normals
    std::vector<FaceView> forms;
    if (spread.turn < flat) forms.push_back(as_plane(spread, view));
    if (spread.turn > turned) {
        forms.push_back(as_cylinder(spread, view));
        if (spread.out_of_plane > flat) forms.push_back(as_cone(spread, view));
        forms.push_back(as_sphere(spread, view));
        try {
            forms.push_back(as_torus(solid, face, view));
        } catch (const Standard_Failure&) {
            // It stays a free form.
        }
    }
    for (const FaceView& form : forms)
        if (form.kind != GeomAbs_OtherSurface &&
            std::all_of(samples.begin(), samples.end(), [&](const FaceSample& sample) {
                return distance(form, sample.place) < recognised_within;
            })) {
            view = form;
            return;
        }
}

Vector3 outward_of(const FaceView& view, const Point3& place) {
    const Vector3 way = place - view.on_axis;
    const Vector3 across = way - way.dot(view.axis) * view.axis;
    switch (view.kind) {
        case GeomAbs_Cylinder:
        case GeomAbs_Cone:
            return across.normalized();
        case GeomAbs_Sphere:
            return way.normalized();
        case GeomAbs_Torus:
            return (way - view.ring * across.normalized()).normalized();
        default:
            return Vector3::Zero();
    }
}

}  // namespace planform::features
