#pragma once

/// What integrals over one face give.

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

}  // namespace planform::model
