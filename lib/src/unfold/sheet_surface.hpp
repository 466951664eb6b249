#pragma once

/// What the surface of a face is to a sheet: a plane, a cylinder, a cone, or none of them.

#include <optional>
#include <string>

#include "planform/geometry.hpp"
#include "solid/face_surface.hpp"

namespace planform::unfolding {

enum class SurfaceKind { plane, cylinder, cone, other };

/// In model coordinates, mm and rad.
struct SheetSurface {
    SurfaceKind kind = SurfaceKind::other;
    Point3 origin = Point3::Zero();  ///< a point of a plane or of an axis; a cone's apex
    /// Plane: unit normal out of the solid. Cylinder: axis. Cone: axis, from the apex into the
    /// opening.
    Vector3 axis = Vector3::UnitZ();
    double radius = 0.0;      ///< of a cylinder
    double half_angle = 0.0;  ///< of a cone, 0 to pi/2
    bool hollow = false;      ///< cylinder, cone: its material is outside
    bool is_fitted = false;   ///< a spline that is one within what is recognised
    /// Direction across the axis in the middle of the face's turn (cylinder, cone).
    Vector3 middle = Vector3::UnitX();

    bool is_curved() const { return kind == SurfaceKind::cylinder || kind == SurfaceKind::cone; }
    /// Away from the axis, at a place of a cylinder or cone: unit normal of the surface.
    Vector3 away_from_axis(const Point3& place) const;
    /// Unit normal out of the solid.
    Vector3 outward_at(const Point3& place) const;
};

/// A spline that is a plane, a cylinder or a cone within `recognition` mm counts as one.
SheetSurface sheet_surface(const solid::FaceSurface& surface, int outward, double recognition);

/// The same for planes, cylinders and cones as the kernel has them, without reading the boundary of
/// the face; `on_face` is a place of it. Nothing for other surfaces. `middle` is not set.
std::optional<SheetSurface> closed_form_surface(const solid::GraphFace& face,
                                                const gp_Trsf& placement, const Point3& on_face);

/// Unit normal out of the solid at parameters of any surface.
Vector3 outward_normal(const solid::FaceSurface& surface, int outward, const Point2& uv);

/// How far the second surface lies behind the first, through the material between them, mm: for
/// parallel planes that look away from each other, coaxial cylinders and coaxial cones. Nothing for
/// others and for those that lie the other way round.
std::optional<double> thickness_between(const SheetSurface& first, const SheetSurface& second);

/// Do two faces lie on one surface, looking the same way?
bool is_same_surface(const SheetSurface& first, const SheetSurface& second);

}  // namespace planform::unfolding
