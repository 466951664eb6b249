#pragma once

/// Tight boxes, without the slack that the kernel adds by habit.

#include <TopoDS_Shape.hxx>

#include "planform/geometry.hpp"

namespace planform::model {

/// The smallest box along the axes around a shape, in the shape's units: exact to rounding where
/// the faces are planes, cylinders and cones and the edges lines, circles and ellipses; otherwise
/// not too small by more than the kernel's confusion, 1e-7. Empty for a shape without edges and
/// faces. Throws the kernel's exceptions.
Box3 tight_box(const TopoDS_Shape& shape);

}  // namespace planform::model
