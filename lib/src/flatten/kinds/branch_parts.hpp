#pragma once

/// Pieces that the closed forms of folds and of sections share.

#include <vector>

#include "curve/angles.hpp"
#include "flatten/kinds/branch.hpp"
#include "solid/face_surface.hpp"

namespace planform::flatten {

/// A direction is in a plane, or two directions are perpendicular, if the cosine is below this.
constexpr double perpendicular = 1e-10;

/// Error of fitted curves relative to the surface: closed forms deserve full precision.
constexpr double fit_relative = 1e-11;

/// On the datum.
inline Vector2 flat(const Vector3& v) { return v.head<2>(); }

/// The angle with whole turns taken off, within [-pi, pi].
double wrapped(double angle);

/// The angle with whole turns taken off, within [low, low + 2 pi).
double turn_from(double low, double angle);

/// Angles u with a cos u + b sin u = c.
std::vector<double> solve_cosine(double a, double b, double c);

/// The straight lines u = const of a cylinder or cone.
std::vector<Branch> rulings(const solid::FaceSurface& surface, const std::vector<double>& angles);

/// True if one of the two rulings of a cylinder or cone that are steepest across the view is nearer
/// to a height than `depth` at both ends of the face.
bool runs_along_ruling(const solid::FaceSurface& surface, double level, double depth);

/// The circle in which the plane through `center` across `axis` cuts a sphere; parameter: its
/// angle.
Branch sphere_circle(const solid::FaceSurface& surface, const Point3& center, const Vector3& axis,
                     double radius);

}  // namespace planform::flatten
