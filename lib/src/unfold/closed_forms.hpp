#pragma once

/// Splines that are planes, cylinders or cones, as these: the kernel prolongs and cuts them better,
/// and in a fraction of the time.

#include <TopoDS_Shape.hxx>
#include <optional>

#include "unfold/sheet_body.hpp"

namespace planform::unfolding {

/// Does the surface of a face count as a plane, cylinder or cone without being one?
bool has_fitted_surfaces(const SheetBody& body);

/// The shape with the surfaces that such faces count as, its edges as they are, its faces in the
/// same order. Nothing if there are none, or if the result is not the same solid within what
/// surfaces are recognised by.
std::optional<TopoDS_Shape> in_closed_forms(const SheetBody& body);

}  // namespace planform::unfolding
