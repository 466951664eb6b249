#pragma once

/// Where to start following the section of a surface so that no closed loop is missed.

#include <vector>

#include "flatten/zero_sets/level_field.hpp"

namespace planform::flatten {

/// Points of the face's parameter box, on the zero set, at least one on every closed loop of it. On
/// a spline surface the box is divided until the height's Bernstein coefficients have one sign, or
/// until it is monotone in u or in v: a loop can't lie inside such a rectangle, it crosses a side.
/// On other surfaces sides of a grid are looked at. Loops that leave the plane by less than
/// `in_plane` are none.
std::vector<Point2> section_seeds(const HeightField& field);

}  // namespace planform::flatten
