#pragma once

/// Sections of a torus in closed form.

#include <optional>
#include <vector>

#include "flatten/kinds/branch.hpp"
#include "solid/face_surface.hpp"

namespace planform::flatten {

/// The branches of the section of a torus; nothing if it meets its own axis and must be traced:
/// circles where the plane is square to the axis or holds it, else curves of degree four, fitted to
/// 1e-11 of the torus' size. Both loops of a face are found however small they are, since the
/// ranges of v that the plane meets are roots of a closed form.
std::optional<std::vector<Branch>> torus_section(const solid::FaceSurface& surface, double level);

}  // namespace planform::flatten
