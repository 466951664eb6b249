#pragma once

/// The zero set of a field on one face, as directed curves from root to root of the face's
/// boundary.

#include <vector>

#include "flatten/level_field.hpp"
#include "planform/curve.hpp"

namespace planform::flatten {

/// Where the zero set crosses the boundary of the face.
struct BoundaryRoot {
    bool starts;  ///< a level curve starts here (going round, + turns into -), else one ends here
    int node;     ///< of the arrangement
    Point2 uv;    ///< on the boundary
    Point2 inner_uv;  ///< a little inside the face, on the zero set where that can be had
};

/// A directed piece of the zero set, positive side on the left seen from outside the solid.
struct LevelCurve {
    std::vector<Curve> curves;  ///< head to tail, on the datum
    int start_node;             ///< -1: the curve closes on itself
    int end_node;
};

/// All folds of the face. Every root is used once. `tolerance` in mm bounds what has no closed
/// form. Throws GeometryError(face_not_flattened) with the cause if the roots can't be joined.
std::vector<LevelCurve> level_curves(const FacingField& field, std::vector<BoundaryRoot> roots,
                                     double tolerance);

/// The same for a section. Its roots come from the edges themselves: they need no mending. `edges`:
/// where some lie in the plane they are part of the section, and what runs along them is not.
enum class PlaneEdges { none, some };
std::vector<LevelCurve> level_curves(const HeightField& field,
                                     const std::vector<BoundaryRoot>& roots, PlaneEdges edges,
                                     double tolerance);

}  // namespace planform::flatten
