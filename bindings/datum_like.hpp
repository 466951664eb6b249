#pragma once

/// A datum as callers may give it: the plane itself or its word, as at the command line.

#include "binding.hpp"

namespace planform::python {

/// A Datum, or 'xy', 'xz', 'yz', or 'auto' for that of the solids.
struct DatumLike {
    std::optional<Datum> datum;  ///< nothing for 'auto'

    const Datum& of(std::span<const Solid> solids) {
        if (!datum) datum = auto_datum(solids);
        return *datum;
    }
};

/// The same without 'auto', where there are no solids.
struct PlaneLike {
    Datum datum = Datum::xy();
};

}  // namespace planform::python

namespace pybind11::detail {

template <>
struct type_caster<planform::python::DatumLike> {
    PYBIND11_TYPE_CASTER(planform::python::DatumLike,
                         const_name("planform._planform.Datum | "
                                    "typing.Literal['auto', 'xy', 'xz', 'yz']"));

    bool load(handle source, bool convert);
};

template <>
struct type_caster<planform::python::PlaneLike> {
    PYBIND11_TYPE_CASTER(planform::python::PlaneLike,
                         const_name("planform._planform.Datum | typing.Literal['xy', 'xz', 'yz']"));

    bool load(handle source, bool convert);
};

}  // namespace pybind11::detail
