#pragma once

/// The shadow's area by another way: the solid's triangles, projected and measured along scan
/// lines.

#include <TopoDS_Shape.hxx>

#include "planform/datum.hpp"
#include "planform/geometry.hpp"

namespace oracle {

struct Area {
    double value = 0.0;  ///< mm^2
    /// Of the scan: the area of the triangles' union is within this of `value`.
    double scan_error = 0.0;
};

/// True if the shape's own triangulation has the area of its faces (by the kernel's quadrature)
/// within a hundredth: its mesher now and then leaves out half a face that has a seam.
bool mesh_covers_all_faces(const TopoDS_Shape& shape);

/// The shadow's area by rays: the share of a lattice of lines along the normal that meet the shape.
/// `scan_error` is the lattice's step in mm: the error of counting its points is below the
/// perimeter times a share of it.
Area ray_area(const TopoDS_Shape& shape, const planform::Datum& datum, const planform::Box2& box);

/// Area of the union of the projected triangles of a mesh with the given deflection (mm): total
/// length of the union along parallel lines (midpoint rule), taken askew to the datum's axes so
/// that no edge runs along them, with two spacings for the error. The shape's own triangulation is
/// replaced.
Area shadow_area(const TopoDS_Shape& shape, const planform::Datum& datum, double deflection);

}  // namespace oracle
