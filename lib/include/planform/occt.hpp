#pragma once

/// The one public header that knows Open CASCADE: for callers that hold a TopoDS_Shape.

#include <TopoDS_Shape.hxx>

#include "planform/model.hpp"

namespace planform {

/// A model from a shape in memory (mm). Solids and closed shells are taken; as for load().
Model from_shape(const TopoDS_Shape& shape, const LoadOptions& options = {});

/// The kernel's shape of a solid, placed in the model.
const TopoDS_Shape& shape_of(const Solid& solid);

}  // namespace planform
