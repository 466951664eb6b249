#pragma once

/// A face of a solid, seen along the datum's normal: what each is for a straight cut.

#include <GeomAbs_SurfaceType.hxx>
#include <cstddef>

#include "planform/geometry.hpp"

namespace planform::features {

enum class FaceRole {
    top,       ///< flat, in the top
    bottom,    ///< flat, in the bottom
    wall,      ///< straight
    flat,      ///< flat, at another height
    bevel,     ///< slanted everywhere alike: a plane, or a cone around the normal
    rounding,  ///< a cylinder, torus or sphere
    free       ///< any other
};

/// Datum coordinates, mm, radians.
struct FaceView {
    std::size_t index = 0;  ///< in the graph
    int number = 0;
    FaceRole role = FaceRole::wall;
    Box3 box;
    /// Between the surface and a straight wall: the greatest; equal everywhere on a bevel.
    double lean = 0.0;
    bool looks_up = false;    ///< in part at least
    bool looks_down = false;  ///< in part at least
    bool hollow = false;      ///< cylinder, cone, torus, sphere: its material is outside
    /// The surface, also where the file writes it as a spline; GeomAbs_OtherSurface if none of the
    /// closed forms.
    GeomAbs_SurfaceType kind = GeomAbs_OtherSurface;
    Point3 on_axis = Point3::Zero();  ///< the centre of spheres and tori, the apex of cones
    Vector3 axis = Vector3::UnitZ();
    double radius = 0.0;      ///< cylinder, sphere; tube of a torus
    double ring = 0.0;        ///< radius of a torus' centre circle
    double half_angle = 0.0;  ///< cone, above 0

    double low() const { return box.min().z(); }
    double high() const { return box.max().z(); }
    /// Upright: the axis is the datum's normal.
    bool is_upright() const { return axis.head<2>().norm() < 1e-6; }
};

}  // namespace planform::features
