#pragma once

/// Sections of surfaces of revolution whose profile lies in a plane with the axis.

#include <optional>
#include <vector>

#include "flatten/kinds/branch.hpp"
#include "solid/face_surface.hpp"

namespace planform::flatten {

/// The branches of the section where the plane holds the axis (the profile itself, turned) or is
/// square to it (circles), as exact as the profile; nothing for other planes and surfaces.
std::optional<std::vector<Branch>> revolution_section(const solid::FaceSurface& surface,
                                                      double level);

/// Places on the section by a plane in general position, one or more on every loop of it that
/// touches no boundary of the face: a loop covers a range of v in which the plane meets the circles
/// of the surface, and these ranges are zeros of a function of v alone. Nothing if the surface is
/// not of revolution.
std::optional<std::vector<Point2>> revolution_seeds(const solid::FaceSurface& surface,
                                                    double level);

}  // namespace planform::flatten
