#pragma once

/// Integrals over one face.

#include <TopoDS_Face.hxx>
#include <optional>

#include "model/measure/integral.hpp"
#include "planform/geometry.hpp"

namespace planform::model {

/// Integrates over a face within its edges. Nothing if an edge has no curve in the parameters of a
/// surface that is no plane. Throws the kernel's exceptions.
///
/// With f = (P - apex) . (Pu x Pv) / 3 the cone is the integral of f over the face's u and v; by
/// Green's theorem minus that of F du along the boundary, F the integral of f over v from anywhere.
/// Both integrals stop at knots; between these Gauss' rule is exact for polynomials, and bisected
/// until it agrees with itself for all else. As curves in the parameters only follow the edges
/// within their tolerances, `volume` adds the strips between the two: what two faces bound then has
/// no gap.
std::optional<FaceIntegral> integral_over(const TopoDS_Face& face, const Point3& apex,
                                          Effort effort);

}  // namespace planform::model
