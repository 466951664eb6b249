#pragma once

/// How much surface a face can have at the most.

#include "solid/face_surface.hpp"

namespace planform::flatten {

/// Area in mm^2 of the surface within the box of the face's parameters, the whole of which a face
/// fills at the most: Gauss' rule with two nodes a side on the pieces of the surface, some 1% off
/// where it bends sharply.
double area_within_box(const solid::FaceSurface& surface);

}  // namespace planform::flatten
