#pragma once

/// Bounds on how a surface of revolution faces the viewer, from the poles of the curve that is
/// turned.

#include <optional>

#include "flatten/bounds/range.hpp"
#include "solid/face_surface.hpp"

namespace planform::flatten {

/// True if bound_revolution can tell something: a spline that is not periodic is turned.
bool has_revolution_bound(const solid::FaceSurface& surface);

/// Range, or what holds it, of the z component of dS/du x dS/dv over a box of parameters of a
/// surface of kind revolution, in units of its largest size, so that `edge_on` rad is the least
/// value that counts. Nothing if the turned curve is no spline, or if no sign can be told.
std::optional<Range> bound_revolution(const solid::FaceSurface& surface, const Box2& box,
                                      double edge_on);

}  // namespace planform::flatten
