#pragma once

/// Failures of the kernel on one solid, as errors that name it.

#include <Standard_Failure.hxx>

#include "model/kernel/kernel.hpp"
#include "planform/error.hpp"
#include "planform/model.hpp"

namespace planform::model {

/// Runs `body`; an exception of the kernel becomes a GeometryError that names the solid.
template <class Body>
auto guarded(const Solid& solid, Body&& body) {
    try {
        return body();
    } catch (const Standard_Failure& failure) {
        throw GeometryError(ErrorKind::kernel_failure,
                            "solid '" + solid.name() + "': the kernel can't look at its faces (" +
                                describe_failure(failure) +
                                "); repair the solid where it was drawn");
    }
}

}  // namespace planform::model
