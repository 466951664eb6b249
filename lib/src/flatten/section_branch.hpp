#pragma once

/// Sections of the elementary surfaces in closed form.

#include <optional>
#include <vector>

#include "flatten/branch.hpp"

namespace planform::flatten {

/// The branches of the section of a plane, cylinder, cone, sphere or torus; nothing if the surface
/// is another one (or a torus that meets its own axis) and must be traced. An empty list: no
/// section.
std::optional<std::vector<Branch>> section_branches(const HeightField& field);

/// The part of section_branches for a torus: circles where the plane is square to the axis or holds
/// it, else curves of degree four, fitted to 1e-11 of the torus' size. Both loops of a face are
/// found however small they are, since the ranges of v that the plane meets are roots of a closed
/// form.
std::optional<std::vector<Branch>> torus_section(const HeightField& field);

}  // namespace planform::flatten
