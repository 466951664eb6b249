#pragma once

#include <TopoDS_Shape.hxx>
#include <TopoDS_Wire.hxx>
#include <vector>

namespace planform::demo {

/// A plate: the sheet inside `outer` and outside all `holes`, from z = 0 to z = thickness (mm). All
/// wires counter-clockwise in the plane z = 0.
TopoDS_Shape sheet(const TopoDS_Wire& outer, const std::vector<TopoDS_Wire>& holes,
                   double thickness);

}  // namespace planform::demo
