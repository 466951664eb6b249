#pragma once

/// Planes, cylinders, cones, spheres and tori, whatever a file writes them as.

#include <cstddef>

#include "features/face_view.hpp"
#include "solid/section_solid.hpp"

namespace planform::features {

/// Takes axis and sizes of a face's surface if the kernel knows it as a closed form.
void read_closed_form(const solid::SectionSolid& solid, std::size_t face, FaceView& view);

/// Of a spline or a surface of revolution: the closed form that it is within 1e-6 mm, if any.
void recognise(const solid::SectionSolid& solid, std::size_t face, FaceView& view);

/// From the axis (of a torus: the centre circle; of a sphere: the centre) to a place on the
/// surface, unit length but for planes and free forms, where it is zero.
Vector3 outward_of(const FaceView& view, const Point3& place);

}  // namespace planform::features
