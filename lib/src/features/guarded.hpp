#pragma once

/// Errors of this floor name the solid.

#include <Standard_Failure.hxx>
#include <string>

#include "planform/error.hpp"
#include "planform/model.hpp"

namespace planform::features {

/// Runs `body`; errors come out with the name of the solid, those of the kernel as GeometryError.
template <class Body>
auto guarded(const Solid& solid, Body&& body) {
    const std::string who = "solid \"" + solid.name() + "\": ";
    try {
        return body();
    } catch (const GeometryError& error) {
        throw GeometryError(error.kind(), who + error.what());
    } catch (const Standard_Failure& failure) {
        throw GeometryError(ErrorKind::kernel_failure,
                            who + "the geometry kernel failed (" +
                                std::string(failure.DynamicType()->Name()) +
                                "); repair the solid where it was drawn");
    }
}

}  // namespace planform::features
