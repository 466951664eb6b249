#pragma once

/// How much surface, and how large a shadow, a face can have at the most.

#include "solid/face_surface.hpp"

namespace planform::flatten {

/// Of the surface within the box of a face's parameters, the whole of which a face fills at the
/// most.
struct SurfaceExtent {
    double area = 0.0;    ///< mm^2
    double shadow = 0.0;  ///< on the datum, counted sheet by sheet: those that look away, too; mm^2
};

/// How closely the surface is looked at.
enum class Sampling { coarse, fine };

/// By Gauss' rule with two nodes a side on the pieces of the surface: coarse, areas are some 1% off
/// where it bends sharply, and shadows more where it has waves; fine, every span between knots is
/// looked at, up to a number.
SurfaceExtent extent_within_box(const solid::FaceSurface& surface, Sampling sampling);

}  // namespace planform::flatten
