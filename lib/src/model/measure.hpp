#pragma once

/// Volumes and areas.

#include <Standard_Failure.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Shape.hxx>
#include <string>

#include "planform/error.hpp"

namespace planform::model {

/// Area of a face, mm^2. Planar faces: by Green's theorem along their edges, exact to rounding for
/// lines and polynomial splines, to about 1e-14 for arcs. Others: the kernel's Gauss integration.
/// Throws the kernel's exceptions.
double face_area(const TopoDS_Face& face);

/// Volume, mm^3, of a closed body to about 1e-4 relative and with the right sign: negative if the
/// body is inside out. Throws the kernel's exceptions.
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
