#pragma once

#include <TopoDS_Face.hxx>
#include <TopoDS_Shape.hxx>

#include "model/measure/face_integral.hpp"

namespace planform::model {

/// Integrals over a face by triangles, to about 1e-4: for faces whose curves in the parameters
/// don't say what they enclose, and as a judge that shares no code with integral_over. The face is
/// copied: it gets no triangles. All nought if the kernel makes none.
FaceIntegral integral_over_mesh(const TopoDS_Face& face, const Point3& apex);

}  // namespace planform::model
