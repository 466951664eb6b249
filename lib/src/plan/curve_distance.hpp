#pragma once

/// How far curves keep from each other, on the curves themselves.

#include <vector>

#include "offset/atoms.hpp"
#include "planform/curve.hpp"

namespace planform::planning {

using offset_detail::Atom;

/// mm within which distances are found.
inline constexpr double distance_precision = 1e-9;

/// The curve in simple pieces. Throws GeometryError (invalid_argument) for a spline that turns back
/// on the spot.
std::vector<Atom> atoms_of(const Curve& curve);

/// Lowers `best` to the distance between two pieces of curves if that is less, within
/// distance_precision; never above the true distance by more. Looks no further once `best` is at
/// most `enough`.
void lower_to_distance(const Atom& a, const Atom& b, double enough, double& best);

/// The same between a point and a piece of a curve.
void lower_to_distance(const Point2& point, const Atom& atom, double& best);

}  // namespace planform::planning
