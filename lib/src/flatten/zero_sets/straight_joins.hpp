#pragma once

/// Starts and ends of level curves that are joined by a straight line, and not along the zero set:
/// signs are taken beside the boundary of a face, whose edges are only as exact as its model.

#include <functional>
#include <vector>

#include "flatten/zero_sets/level_curve.hpp"
#include "flatten/zero_sets/level_field.hpp"

namespace planform::flatten {

/// Places nearer than this (mm) are one, and need no line between them.
constexpr double one_place = 2e-7;

/// The line on the datum from one root to another; no curve where they lie within `least` mm.
LevelCurve straight_curve(const solid::FaceSurface& surface, const BoundaryRoot& from,
                          const BoundaryRoot& to, double least);

/// Takes out the start and the end that are nearest to each other by `distance`, and joins them; so
/// on, as long as two are nearer than `reach`.
std::vector<LevelCurve> join_nearest(
    const solid::FaceSurface& surface, std::vector<BoundaryRoot>& roots, double reach,
    const std::function<double(const BoundaryRoot& start, const BoundaryRoot& end)>& distance);

/// Where an edge touches a seam that is a fold, its roots lie on both sides of the vertex, on the
/// seam: takes out each start with the end next to it, where a straight line is the seam's own
/// projection within a share of the tolerance (mm).
std::vector<LevelCurve> join_along_limits(const FacingField& field,
                                          std::vector<BoundaryRoot>& roots, double tolerance);

/// The plane only touches the surface, but edges of the model, which leave the surface by its
/// precision, reach through it: each start is joined with the end next to it. Throws
/// GeometryError(face_not_flattened) where one has none near.
std::vector<LevelCurve> join_across_touch(const HeightField& field,
                                          std::vector<BoundaryRoot> roots);

}  // namespace planform::flatten
