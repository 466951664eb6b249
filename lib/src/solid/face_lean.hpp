#pragma once

/// How a face leans against the datum's normal, and between which heights it lies.

#include <cstddef>
#include <functional>
#include <vector>

#include "solid/section_solid.hpp"

namespace planform::solid {

/// A place on a face, in datum coordinates, with the unit normal out of the solid.
struct FaceSample {
    Point3 place;
    Vector3 normal;
};

/// Places inside a face, evenly over its parameters: some 200 if all of the box is inside.
std::vector<FaceSample> face_samples(const SectionSolid& solid, std::size_t face);

/// Calls `visit` for the places of face_samples() of which `wanted` says so: it is asked first, as
/// telling whether a place is inside costs most where a face has hundreds of holes.
void visit_samples(const SectionSolid& solid, std::size_t face,
                   const std::function<bool(const Point3&)>& wanted,
                   const std::function<void(const FaceSample&)>& visit);

/// Of face_samples() those that show all their normals: of a cylinder or cone, whose normal goes
/// with u alone, one for each u; of a plane its middle, be it in a hole.
std::vector<FaceSample> normal_samples(const SectionSolid& solid, std::size_t face);

/// Box of a face in datum coordinates: exact where the surface is a plane, cylinder, cone, sphere
/// or torus and the edges lines, circles and ellipses; else within 1e-7 mm on the edges, and of
/// free forms from the best of some 200 places uphill.
Box3 face_box(const SectionSolid& solid, std::size_t face);

/// True if the face leans by less than `straight_within` mm over its height: a wall that a straight
/// cut makes, whatever the kind of its surface.
bool is_straight_wall(const SectionSolid& solid, std::size_t face);

}  // namespace planform::solid
