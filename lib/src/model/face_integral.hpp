#pragma once

/// Integrals over one face.

#include <TopoDS_Face.hxx>
#include <optional>

#include "planform/geometry.hpp"

namespace planform::model {

struct FaceIntegral {
    /// Signed volume, mm^3, between a given apex and the face; positive where the face looks away
    /// from the apex.
    double cone = 0.0;
    /// Integral of the outward normals, mm^2.
    Vector3 vector_area = Vector3::Zero();
    /// mm^2; of a quick integral that of the vector area's parts, within a factor.
    double area = 0.0;
    /// How far the vector area, found inside the face, differs from half the integral of E x dE
    /// along its edges in space, which it equals for every surface that they bound (Stokes'
    /// theorem), beyond what the edges' tolerances allow, mm^2; 0 if it was not asked for.
    double unexplained = 0.0;
};

enum class Effort {
    quick,   ///< good enough for the sign of a volume, in a bounded time
    volume,  ///< cone and vector area to rounding
    area     ///< area to 1e-10 relative
};

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
