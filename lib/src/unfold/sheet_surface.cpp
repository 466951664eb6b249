#include "unfold/sheet_surface.hpp"

#include <BRep_Tool.hxx>
#include <Eigen/Dense>
#include <Geom_ConicalSurface.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Plane.hxx>
#include <TopLoc_Location.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Ax3.hxx>
#include <gp_Cone.hxx>
#include <gp_Cylinder.hxx>
#include <vector>

namespace planform::unfolding {

namespace {

/// Directions closer than this are one, rad, and places closer than this, mm: axes and radii in
/// files carry such noise.
constexpr double same_direction = 1e-4;
constexpr double same_place = 1e-3;
/// Places of a surface that are looked at along each parameter.
constexpr int samples = 7;

struct Sample {
    Point3 place;
    Vector3 normal;  ///< along dS/du x dS/dv
};

std::vector<Sample> samples_of(const solid::FaceSurface& surface) {
    std::vector<Sample> result;
    for (int i = 0; i < samples; ++i)
        for (int k = 0; k < samples; ++k) {
            const Vector2 share((i + 0.5) / samples, (k + 0.5) / samples);
            const Point2 uv = surface.low() + share.cwiseProduct(surface.range());
            const solid::SurfacePoint at = surface.first_order(uv);
            const Vector3 normal = at.du.cross(at.dv);
            if (normal.norm() > 1e-12) result.push_back({at.position, normal.normalized()});
        }
    return result;
}

Vector3 across(const Vector3& vector, const Vector3& axis) {
    return vector - vector.dot(axis) * axis;
}

/// The unit vector to which all normals have the same product, and that product: normals of a
/// cylinder lie on a great circle, of a cone on a small one.
struct NormalCircle {
    Vector3 axis;
    double sine;
};
std::optional<NormalCircle> normal_circle(const std::vector<Sample>& places) {
    Vector3 mean = Vector3::Zero();
    for (const Sample& sample : places) mean += sample.normal;
    mean /= static_cast<double>(places.size());
    // Of a cylinder the circle goes through no fixed plane if it is short: ask for both.
    for (const Vector3& base : {Vector3(Vector3::Zero()), mean}) {
        Eigen::Matrix3d spread = Eigen::Matrix3d::Zero();
        for (const Sample& sample : places) {
            const Vector3 d = sample.normal - base;
            spread += d * d.transpose();
        }
        const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> solver(spread);
        const Vector3 axis = solver.eigenvectors().col(0);
        double sine = 0.0;
        for (const Sample& sample : places) sine += sample.normal.dot(axis);
        sine /= static_cast<double>(places.size());
        double worst = 0.0;
        for (const Sample& sample : places)
            worst = std::max(worst, std::abs(sample.normal.dot(axis) - sine));
        if (worst < same_direction) return NormalCircle{axis, sine};
    }
    return std::nullopt;
}

std::optional<SheetSurface> fitted_plane(const std::vector<Sample>& places, double within) {
    SheetSurface plane;
    plane.kind = SurfaceKind::plane;
    plane.axis = places[places.size() / 2].normal;
    plane.origin = places[places.size() / 2].place;
    for (const Sample& sample : places)
        if (std::abs((sample.place - plane.origin).dot(plane.axis)) > within) return std::nullopt;
    return plane;
}

std::optional<SheetSurface> fitted_cylinder(const std::vector<Sample>& places,
                                            const NormalCircle& circle, double within) {
    if (std::abs(circle.sine) > same_direction) return std::nullopt;
    const Vector3 x = circle.axis.unitOrthogonal();
    const Vector3 y = circle.axis.cross(x);
    // place = center + signed radius * normal, across the axis.
    Eigen::MatrixXd system(2 * static_cast<Eigen::Index>(places.size()), 3);
    Eigen::VectorXd right(system.rows());
    for (std::size_t i = 0; i < places.size(); ++i) {
        const auto row = 2 * static_cast<Eigen::Index>(i);
        system.row(row) << 1.0, 0.0, places[i].normal.dot(x);
        system.row(row + 1) << 0.0, 1.0, places[i].normal.dot(y);
        right[row] = places[i].place.dot(x);
        right[row + 1] = places[i].place.dot(y);
    }
    const Eigen::Vector3d found = system.colPivHouseholderQr().solve(right);
    SheetSurface cylinder;
    cylinder.kind = SurfaceKind::cylinder;
    cylinder.origin = found[0] * x + found[1] * y;
    cylinder.axis = circle.axis;
    cylinder.radius = std::abs(found[2]);
    cylinder.hollow = found[2] < 0.0;
    for (const Sample& sample : places) {
        const double distance = across(sample.place - cylinder.origin, cylinder.axis).norm();
        if (std::abs(distance - cylinder.radius) > within) return std::nullopt;
    }
    return cylinder;
}

std::optional<SheetSurface> fitted_cone(const std::vector<Sample>& places,
                                        const NormalCircle& circle, double within) {
    if (std::abs(circle.sine) < same_direction) return std::nullopt;
    // The apex lies in all tangent planes.
    Eigen::MatrixXd system(static_cast<Eigen::Index>(places.size()), 3);
    Eigen::VectorXd right(system.rows());
    for (std::size_t i = 0; i < places.size(); ++i) {
        system.row(static_cast<Eigen::Index>(i)) = places[i].normal.transpose();
        right[static_cast<Eigen::Index>(i)] = places[i].normal.dot(places[i].place);
    }
    SheetSurface cone;
    cone.kind = SurfaceKind::cone;
    cone.origin = system.colPivHouseholderQr().solve(right);
    cone.axis = circle.axis;
    double sine = circle.sine;
    if ((places.front().place - cone.origin).dot(cone.axis) < 0.0) {
        cone.axis = -cone.axis;
        sine = -sine;
    }
    // Normals away from the axis lean against it.
    cone.hollow = sine > 0.0;
    cone.half_angle = std::asin(std::min(1.0, std::abs(sine)));
    for (const Sample& sample : places) {
        const Vector3 from_apex = sample.place - cone.origin;
        const double radius = across(from_apex, cone.axis).norm();
        const double off = radius * std::cos(cone.half_angle) -
                           from_apex.dot(cone.axis) * std::sin(cone.half_angle);
        if (std::abs(off) > within) return std::nullopt;
    }
    return cone;
}

/// As if the material were behind dS/du x dS/dv.
SheetSurface fitted(const solid::FaceSurface& surface, double within) {
    const std::vector<Sample> places = samples_of(surface);
    if (places.size() < 6) return {};
    if (auto plane = fitted_plane(places, within)) return *plane;
    const auto circle = normal_circle(places);
    if (!circle) return {};
    if (auto cylinder = fitted_cylinder(places, *circle, within)) return *cylinder;
    if (auto cone = fitted_cone(places, *circle, within)) return *cone;
    return {};
}

}  // namespace

Vector3 outward_normal(const solid::FaceSurface& surface, int outward, const Point2& uv) {
    if (surface.kind() == GeomAbs_Plane) return outward * surface.handed() * surface.z();
    const solid::SurfacePoint at = surface.first_order(uv);
    const Vector3 normal = at.du.cross(at.dv);
    const double size = normal.norm();
    return size > 0.0 ? Vector3(outward / size * normal) : Vector3(Vector3::Zero());
}

Vector3 SheetSurface::away_from_axis(const Point3& place) const {
    const Vector3 radial = across(place - origin, axis).normalized();
    if (kind == SurfaceKind::cylinder) return radial;
    return std::cos(half_angle) * radial - std::sin(half_angle) * axis;
}

Vector3 SheetSurface::outward_at(const Point3& place) const {
    if (kind == SurfaceKind::plane) return axis;
    return hollow ? Vector3(-away_from_axis(place)) : away_from_axis(place);
}

SheetSurface sheet_surface(const solid::FaceSurface& surface, int outward, double recognition) {
    SheetSurface result;
    const Point2 center = 0.5 * (surface.low() + surface.high());
    switch (surface.kind()) {
        case GeomAbs_Plane:
            result.kind = SurfaceKind::plane;
            result.origin = surface.origin();
            result.axis = outward_normal(surface, outward, center);
            return result;
        case GeomAbs_Cylinder:
            result.kind = SurfaceKind::cylinder;
            result.origin = surface.origin();
            result.axis = surface.z();
            result.radius = surface.radius();
            break;
        case GeomAbs_Cone: {
            result.kind = SurfaceKind::cone;
            const double a = surface.half_angle();
            result.origin = surface.origin() - surface.radius() / std::tan(a) * surface.z();
            result.axis = a > 0.0 ? surface.z() : Vector3(-surface.z());
            result.half_angle = std::abs(a);
            break;
        }
        case GeomAbs_Sphere:
        case GeomAbs_Torus:
            return result;
        default:
            result = fitted(surface, recognition);
            result.is_fitted = true;
            if (result.kind == SurfaceKind::plane) {
                result.axis *= outward;
                return result;
            }
            break;
    }
    if (!result.is_curved()) return result;
    const Point3 place = surface.first_order(center).position;
    result.middle = across(place - result.origin, result.axis).normalized();
    result.hollow =
        outward_normal(surface, outward, center).dot(result.away_from_axis(place)) < 0.0;
    // A face beyond the apex would be another cone's.
    if (result.kind == SurfaceKind::cone && (place - result.origin).dot(result.axis) <= 0.0)
        return {};
    return result;
}

std::optional<SheetSurface> closed_form_surface(const solid::GraphFace& face,
                                                const gp_Trsf& placement, const Point3& on_face) {
    TopLoc_Location location;
    const Handle(Geom_Surface)& surface = BRep_Tool::Surface(face.shape, location);
    gp_Trsf placed = placement;
    if (!location.IsIdentity()) placed.Multiply(location.Transformation());
    SheetSurface result;
    const auto set_frame = [&result](const gp_Ax3& frame) {
        result.origin = {frame.Location().X(), frame.Location().Y(), frame.Location().Z()};
        result.axis = {frame.Direction().X(), frame.Direction().Y(), frame.Direction().Z()};
        return frame.Direct() ? 1 : -1;
    };
    if (surface->DynamicType() == STANDARD_TYPE(Geom_Plane)) {
        result.kind = SurfaceKind::plane;
        const auto* plane = static_cast<const Geom_Plane*>(surface.get());
        const int handed = set_frame(plane->Position().Transformed(placed));
        result.axis *= face.outward * handed;
        return result;
    }
    // dS/du x dS/dv looks away from the axis in a right-handed frame.
    if (surface->DynamicType() == STANDARD_TYPE(Geom_CylindricalSurface)) {
        const gp_Cylinder cylinder = static_cast<const Geom_CylindricalSurface*>(surface.get())
                                         ->Cylinder()
                                         .Transformed(placed);
        result.kind = SurfaceKind::cylinder;
        result.radius = cylinder.Radius();
        result.hollow = face.outward * set_frame(cylinder.Position()) < 0;
        return result;
    }
    if (surface->DynamicType() == STANDARD_TYPE(Geom_ConicalSurface)) {
        const gp_Cone cone =
            static_cast<const Geom_ConicalSurface*>(surface.get())->Cone().Transformed(placed);
        result.kind = SurfaceKind::cone;
        result.hollow = face.outward * set_frame(cone.Position()) < 0;
        const double a = cone.SemiAngle();
        result.origin -= cone.RefRadius() / std::tan(a) * result.axis;
        if (a < 0.0) result.axis = -result.axis;
        result.half_angle = std::abs(a);
        // A face beyond the apex would be another cone's.
        if ((on_face - result.origin).dot(result.axis) <= 0.0) return SheetSurface{};
        return result;
    }
    return std::nullopt;
}

namespace {

bool are_coaxial(const SheetSurface& a, const SheetSurface& b) {
    return a.axis.cross(b.axis).norm() < same_direction &&
           across(a.origin - b.origin, b.axis).norm() < same_place;
}

}  // namespace

std::optional<double> thickness_between(const SheetSurface& first, const SheetSurface& second) {
    if (first.kind != second.kind || first.kind == SurfaceKind::other) return std::nullopt;
    double distance = 0.0;
    if (first.kind == SurfaceKind::plane) {
        if ((first.axis + second.axis).norm() > same_direction) return std::nullopt;
        distance = (first.origin - second.origin).dot(first.axis);
    } else {
        if (first.hollow == second.hollow || !are_coaxial(first, second)) return std::nullopt;
        const SheetSurface& outer = first.hollow ? second : first;
        const SheetSurface& inner = first.hollow ? first : second;
        if (first.kind == SurfaceKind::cylinder) {
            distance = outer.radius - inner.radius;
        } else {
            if (outer.axis.dot(inner.axis) < 0.0 ||
                std::abs(outer.half_angle - inner.half_angle) > same_direction)
                return std::nullopt;
            distance = (inner.origin - outer.origin).dot(outer.axis) * std::sin(outer.half_angle);
        }
    }
    if (!(distance > 0.0)) return std::nullopt;
    return distance;
}

bool is_same_surface(const SheetSurface& first, const SheetSurface& second) {
    if (first.kind != second.kind || first.kind == SurfaceKind::other) return false;
    if (first.kind == SurfaceKind::plane)
        return (first.axis - second.axis).norm() < same_direction &&
               std::abs((first.origin - second.origin).dot(first.axis)) < same_place;
    if (first.hollow != second.hollow || !are_coaxial(first, second)) return false;
    if (first.kind == SurfaceKind::cylinder)
        return std::abs(first.radius - second.radius) < same_place;
    return first.axis.dot(second.axis) > 0.0 &&
           std::abs(first.half_angle - second.half_angle) < same_direction &&
           (first.origin - second.origin).norm() < same_place;
}

}  // namespace planform::unfolding
