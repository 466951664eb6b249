#pragma once

/// Seeded bodies of revolution and sweeps of every kind of profile, with the areas that closed
/// forms give for their sections.

#include <TopoDS_Shape.hxx>
#include <cstdint>
#include <string>

#include "planform/geometry.hpp"

namespace turned_bodies {

/// A body of revolution about a placed axis.
struct Turned {
    TopoDS_Shape shape;
    planform::Point3 foot;      ///< of the axis
    planform::Vector3 axis;     ///< unit
    planform::Vector3 seam;     ///< unit, across the axis: where the profile was drawn
    double profile_area = 0.0;  ///< of one side, mm^2, by quadrature of the profile's own curve
    planform::Point3 corner;    ///< where the profile's curve starts (a vertex of the body)
    bool meets_axis = false;    ///< pole to pole; else a ring
    double lowest = 0.0, highest = 0.0;  ///< of the profile along the axis, over the foot
    std::string description;
};

/// Profiles: lines, arcs, half ellipses, splines of degree 1 to 9 from pole to pole, with corners
/// or not, in one face or several; circles, ellipses, polygons and splines (periodic or closed) as
/// rings. The same seed gives the same body.
Turned turned(std::uint64_t seed);

/// A section swept along a spine in a plane.
struct Swept {
    TopoDS_Shape shape;
    planform::Point3 origin;   ///< of the spine's plane
    planform::Vector3 normal;  ///< of the spine's plane
    /// In the spine's plane: width of the section times the spine's length (the section is
    /// symmetric about the plane, and Pappus' theorem holds for plane strips too).
    double area = 0.0;
    planform::Point3 start;          ///< of the spine, on the section's rim (a vertex)
    planform::Vector3 start_normal;  ///< along the spine, into the body
    bool is_closed = false;
    std::string description;
};

/// Round or oval tubes, with a bore or not, along arcs, closed circles, ellipses and splines.
Swept swept(std::uint64_t seed);

/// The same shape written to STEP (BREP) and read again.
TopoDS_Shape through_step(const TopoDS_Shape& shape);
TopoDS_Shape through_brep(const TopoDS_Shape& shape);
/// All its surfaces and curves as B-splines.
TopoDS_Shape as_splines(const TopoDS_Shape& shape);

}  // namespace turned_bodies
