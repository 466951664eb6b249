#include "unfold/face_measure.hpp"

#include <BRep_Tool.hxx>
#include <Geom_SurfaceOfLinearExtrusion.hxx>
#include <TopLoc_Location.hxx>
#include <cmath>

#include "curve/quadrature.hpp"
#include "model/measure/face_integral.hpp"
#include "model/measure/measure.hpp"

namespace planform::unfolding {

namespace {

/// Gauss' rule on a smooth stretch of an edge: a span of a spline, a quarter of a conic. What cubic
/// splines make of a plane is integrated exactly, of cylinders to rounding.
constexpr int nodes = 10;
/// A circle lies about an axis within this share of its radius.
constexpr double about_axis = 1e-9;

/// Adds up a function of place and dP/dt along an edge; false if the edge tells no stretches.
template <class Function, class Sum>
bool add_along(const EdgeForm& form, const Function& function, double sign, Sum& sum) {
    const std::vector<double> stops = form.smooth_stretches();
    if (stops.empty()) return false;
    const detail::GaussRule& rule = detail::gauss_rule(nodes);
    for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
        const double half = 0.5 * (stops[i + 1] - stops[i]);
        const double middle = 0.5 * (stops[i + 1] + stops[i]);
        for (std::size_t k = 0; k < nodes; ++k) {
            const auto [place, along] = form.first_order(middle + half * rule.nodes[k]);
            sum += sign * half * rule.weights[k] * function(place, along);
        }
    }
    return true;
}

/// Half the integral of n . (P x dP): of a line and of an arc in closed form.
std::optional<double> plane_area(const solid::GraphFace& face, const SheetSurface& plane,
                                 const std::vector<std::optional<EdgeForm>>& forms) {
    double twice = 0.0;
    for (const solid::EdgeUse& use : face.uses) {
        const auto& form = forms[static_cast<std::size_t>(use.edge)];
        if (!form) return std::nullopt;
        const double sign = use.along ? 1.0 : -1.0;
        const double first = form->first(), last = form->last();
        const Vector3 from = form->point(first) - plane.origin;
        const Vector3 to = form->point(last) - plane.origin;
        if (form->kind() == EdgeForm::Kind::line) {
            twice += sign * plane.axis.dot(from.cross(to));
        } else if (form->kind() == EdgeForm::Kind::circle) {
            const Vector3 center = form->center() - plane.origin;
            const double turned = plane.axis.dot(form->x().cross(form->y()));
            twice += sign * (plane.axis.dot(center.cross(to - from)) +
                             turned * form->radius() * form->radius() * (last - first));
        } else if (!add_along(
                       *form,
                       [&](const Point3& p, const Vector3& dp) {
                           return plane.axis.dot((p - plane.origin).cross(dp));
                       },
                       sign, twice)) {
            return std::nullopt;
        }
    }
    return 0.5 * std::abs(twice);
}

/// Over the angle u about the axis and the height z along it: the integral of f(u) du dz is that of
/// - f(u) z du along the boundary. f is R for the area, R (R + a . e(u)) for three times the cone,
/// a from the apex to the axis, e(u) away from the axis.
std::optional<FaceMeasure> cylinder_measure(const solid::GraphFace& face,
                                            const SheetSurface& cylinder,
                                            const std::vector<std::optional<EdgeForm>>& forms,
                                            const Point3& apex) {
    const double r = cylinder.radius;
    Vector3 a = cylinder.origin - apex;
    a -= a.dot(cylinder.axis) * cylinder.axis;
    double area = 0.0, cone = 0.0;
    for (const solid::EdgeUse& use : face.uses) {
        const auto& form = forms[static_cast<std::size_t>(use.edge)];
        if (!form) return std::nullopt;
        const double sign = use.along ? -1.0 : 1.0;
        const double first = form->first(), last = form->last();
        const auto across = [&](const Point3& p) {
            const Vector3 d = p - cylinder.origin;
            return Vector3(d - d.dot(cylinder.axis) * cylinder.axis);
        };
        const auto height = [&](const Point3& p) {
            return (p - cylinder.origin).dot(cylinder.axis);
        };
        const Point3 from = form->point(first), to = form->point(last);
        if (form->kind() == EdgeForm::Kind::line) {
            // A straight line on a cylinder runs along its axis: u stays.
            if ((across(to) - across(from)).norm() <= about_axis * r) continue;
        }
        const double turned = form->kind() == EdgeForm::Kind::circle
                                  ? cylinder.axis.dot(form->x().cross(form->y()))
                                  : 0.0;
        if (1.0 - std::abs(turned) < about_axis * about_axis &&
            across(form->center()).norm() < about_axis * r) {
            const double way = turned > 0.0 ? 1.0 : -1.0;
            const double z = height(form->center());
            // The integral of e(u) du is e turned back by a right angle.
            const Vector3 swept = -cylinder.axis.cross(across(to) - across(from)) / r;
            area += sign * way * z * r * (last - first);
            cone += sign * z * r * (way * r * (last - first) + a.dot(swept));
            continue;
        }
        Eigen::Array2d sums = Eigen::Array2d::Zero();
        const auto area_and_cone = [&](const Point3& p, const Vector3& dp) {
            const Vector3 out = across(p);
            const double turn = cylinder.axis.dot(out.cross(dp)) / out.squaredNorm();
            const double strip = r * height(p) * turn;
            return Eigen::Array2d(strip, strip * (r + a.dot(out) / out.norm()));
        };
        if (!add_along(*form, area_and_cone, sign, sums)) return std::nullopt;
        area += sums[0];
        cone += sums[1];
    }
    const double outward = cylinder.hollow ? -1.0 : 1.0;
    return FaceMeasure{std::abs(area), outward * (area < 0.0 ? -cone : cone) / 3.0};
}

/// Of a surface of extrusion along the unit vector d: with w = P . d the integral of (P - a) . n
/// over the face is that of d . ((P - a) x dP) dw over its straight lines, whose factor is the same
/// all along a line, and so that of - w d . ((P - a) x dP) along the boundary, counter-clockwise
/// about n.
std::optional<double> extrusion_cone(const solid::GraphFace& face, const gp_Trsf& placement,
                                     const std::vector<std::optional<EdgeForm>>& forms,
                                     const Point3& apex) {
    TopLoc_Location location;
    const Handle(Geom_Surface)& surface = BRep_Tool::Surface(face.shape, location);
    if (surface->DynamicType() != STANDARD_TYPE(Geom_SurfaceOfLinearExtrusion)) return std::nullopt;
    gp_Trsf placed = placement;
    if (!location.IsIdentity()) placed.Multiply(location.Transformation());
    const gp_Dir direction = static_cast<const Geom_SurfaceOfLinearExtrusion*>(surface.get())
                                 ->Direction()
                                 .Transformed(placed);
    const Vector3 d(direction.X(), direction.Y(), direction.Z());
    double sum = 0.0;
    for (const solid::EdgeUse& use : face.uses) {
        const auto& form = forms[static_cast<std::size_t>(use.edge)];
        if (!form) return std::nullopt;
        const double sign = use.along == (face.outward > 0) ? -1.0 : 1.0;
        const auto strip = [&](const Point3& p, const Vector3& dp) {
            const Vector3 arm = p - apex;
            return arm.dot(d) * d.dot(arm.cross(dp));
        };
        if (!add_along(*form, strip, sign, sum)) return std::nullopt;
    }
    return sum / 3.0;
}

}  // namespace

double cone_of(const solid::GraphFace& face, const gp_Trsf& placement, const Point3& apex) {
    gp_Pnt at(apex.x(), apex.y(), apex.z());
    at.Transform(placement.Inverted());
    return face.outward * model::signed_cone(face.shape, {at.X(), at.Y(), at.Z()});
}

FaceMeasure measure_face(const solid::GraphFace& face, const gp_Trsf& placement,
                         const SheetSurface& surface,
                         const std::vector<std::optional<EdgeForm>>& forms, const Point3& apex) {
    if (surface.is_fitted) {
        // Its own surface is not quite what it counts as.
    } else if (surface.kind == SurfaceKind::plane) {
        if (const auto area = plane_area(face, surface, forms))
            return {*area, *area * (surface.origin - apex).dot(surface.axis) / 3.0};
    } else if (surface.kind == SurfaceKind::cylinder) {
        if (const auto measure = cylinder_measure(face, surface, forms, apex)) return *measure;
    }
    if (surface.kind != SurfaceKind::other) return {model::face_area(face.shape), std::nullopt};
    const auto rough = model::integral_over(face.shape, Point3::Zero(), model::Effort::quick);
    return {rough ? rough->area : 0.0, extrusion_cone(face, placement, forms, apex)};
}

}  // namespace planform::unfolding
