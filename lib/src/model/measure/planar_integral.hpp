#pragma once

#include <TopoDS_Face.hxx>
#include <gp_Pln.hxx>

#include "model/measure/integral.hpp"

namespace planform::model {

/// Integrals over a planar face as if it were turned FORWARD, by Green's theorem along its edges in
/// space: it needs no curves in its parameters. Exact to rounding for lines, arcs, ellipses and
/// polynomial splines, else to 1e-12.
FaceIntegral integral_over_plane(const TopoDS_Face& face, const gp_Pln& plane, const Point3& apex,
                                 Effort effort);

}  // namespace planform::model
