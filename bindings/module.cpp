#include "binding.hpp"

PYBIND11_MODULE(_planform, module) {
    namespace python = planform::python;
    module.doc() =
        "The compiled part of planform; use the package `planform`. Lengths are millimetres, "
        "angles radians.";
    module.attr("__version__") = PLANFORM_VERSION;
    python::bind_error(module);
    python::bind_words(module);
    python::bind_datum(module);
    python::bind_curve(module);
    python::bind_proof(module);
    python::bind_profile(module);
    python::bind_merge(module);
    python::bind_drawing(module);
    python::bind_inspect(module);
    python::bind_offset(module);
    python::bind_layout(module);
    python::bind_model(module);
    python::bind_cache(module);
    python::bind_mesh(module);
    python::bind_flatten(module);
    python::bind_features(module);
    python::bind_side_up(module);
    python::bind_unfold(module);
    python::bind_plate(module);
    python::bind_contact(module);
    python::bind_allowance(module);
    python::bind_plan(module);
    python::bind_ways(module);
    python::bind_write(module);
    python::bind_queries(module);
    python::bind_verbs(module);
    python::bind_sequences(module);
    python::bind_values(module);
    python::explain_call_errors(module);
}
