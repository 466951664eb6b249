#pragma once

/// The shadow's area by another way: the solid's triangles, projected and measured along scan
/// lines.

#include <TopoDS_Shape.hxx>

#include "planform/datum.hpp"

namespace oracle {

struct Area {
    double value = 0.0;  ///< mm^2
    /// Of the scan: the area of the triangles' union is within this of `value`.
    double scan_error = 0.0;
};

/// Area of the union of the projected triangles of a mesh with the given deflection (mm): total
/// length of the union along parallel lines (midpoint rule), taken askew to the datum's axes so
/// that no edge runs along them, with two spacings for the error. The shape's own triangulation is
/// replaced.
Area shadow_area(const TopoDS_Shape& shape, const planform::Datum& datum, double deflection);

}  // namespace oracle
