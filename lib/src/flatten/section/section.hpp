#pragma once

/// From one solid to the directed curves of its section.

#include "flatten/collect/outline.hpp"
#include "solid/section_solid.hpp"

namespace planform::flatten {

/// A plane parallel to the datum, and which side of it counts where it lies in a face.
struct SectionPlane {
    double level;  ///< height over the datum, mm
    Side side;
    /// Index of a face whose section is followed on its mesh; none if negative.
    int meshed_face = -1;
};

/// Adds the curves in which the plane cuts the solid, material on the left.
void add_section(const solid::SectionSolid& solid, const SectionPlane& plane, int index,
                 double tolerance, Outline& outline);

}  // namespace planform::flatten
