#pragma once

/// Volumes and areas.

#include <Standard_Failure.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Shape.hxx>
#include <string>

#include "planform/error.hpp"
#include "planform/geometry.hpp"

namespace planform::model {

/// Area of a face, mm^2. Planar faces: by Green's theorem along their edges, exact to rounding for
/// lines, arcs and polynomial splines. Others: to 1e-10 relative, as far as their curves in the
/// parameters follow their edges. Throws the kernel's exceptions.
double face_area(const TopoDS_Face& face);

/// Volume, mm^3, of a closed body by the divergence theorem, about a point of the body: the same
/// wherever it lies. Good to 1e-10 relative where edges lie on both their surfaces. Negative if the
/// body is inside out. Throws the kernel's exceptions.
double volume_of(const TopoDS_Shape& shape);

/// What a face as oriented adds to that: the signed volume between an apex and the face, positive
/// where it looks away from it. Throws the kernel's exceptions.
double signed_cone(const TopoDS_Face& face, const Point3& apex);

/// The volume by triangles, to about 1e-4.
double mesh_volume_of(const TopoDS_Shape& shape);

/// The same in a fraction of the time and to about a per cent, but with the right sign; by
/// volume_of where that would not be sure. Throws the kernel's exceptions.
double rough_volume(const TopoDS_Shape& shape);

/// Runs a measurement of the kernel; a failure of the kernel becomes a GeometryError.
template <class Measure>
auto measured(const char* what, Measure&& measure) {
    try {
        return measure();
    } catch (const Standard_Failure& failure) {
        throw GeometryError(ErrorKind::kernel_failure,
                            std::string("the kernel can't compute the ") + what + " of a solid (" +
                                failure.DynamicType()->Name() + ": " + failure.GetMessageString() +
                                "); repair the solid where it was drawn");
    }
}

}  // namespace planform::model
