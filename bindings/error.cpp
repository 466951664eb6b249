#include "binding.hpp"

namespace planform::python {

namespace {

/// The name that Python sees as `.kind`.
const char* name_of(ErrorKind kind) {
    switch (kind) {
        case ErrorKind::file_missing:
            return "file_missing";
        case ErrorKind::file_unreadable:
            return "file_unreadable";
        case ErrorKind::file_empty:
            return "file_empty";
        case ErrorKind::file_not_recognised:
            return "file_not_recognised";
        case ErrorKind::file_damaged:
            return "file_damaged";
        case ErrorKind::no_solid:
            return "no_solid";
        case ErrorKind::invalid_argument:
            return "invalid_argument";
        case ErrorKind::unknown_option:
            return "unknown_option";
        case ErrorKind::face_not_flattened:
            return "face_not_flattened";
        case ErrorKind::shell_not_closed:
            return "shell_not_closed";
        case ErrorKind::contour_not_closed:
            return "contour_not_closed";
        case ErrorKind::law_broken:
            return "law_broken";
        case ErrorKind::bridge_not_placed:
            return "bridge_not_placed";
        case ErrorKind::no_room_for_allowance:
            return "no_room_for_allowance";
        case ErrorKind::kernel_failure:
            return "kernel_failure";
        case ErrorKind::file_unwritable:
            return "file_unwritable";
        case ErrorKind::json_invalid:
            return "json_invalid";
        case ErrorKind::contour_without_area:
            return "contour_without_area";
        case ErrorKind::contour_crosses_itself:
            return "contour_crosses_itself";
        case ErrorKind::hole_not_inside:
            return "hole_not_inside";
        case ErrorKind::holes_overlap:
            return "holes_overlap";
        case ErrorKind::tolerance_out_of_range:
            return "tolerance_out_of_range";
        case ErrorKind::not_unfolded:
            return "not_unfolded";
        case ErrorKind::no_bend_rule:
            return "no_bend_rule";
    }
    return "";
}

void raise(const py::object& instance) {
    PyErr_SetObject(py::type::of(instance).ptr(), instance.ptr());
}

py::object made(const char* python_class, const Error& error) {
    const py::object type = py::module_::import("planform.errors").attr(python_class);
    return type.attr("of_kind")(name_of(error.kind()), to_str(error.what()));
}

void translate(std::exception_ptr pointer) {
    try {
        if (pointer) std::rethrow_exception(pointer);
    } catch (const LoadError& error) {
        py::object instance = made("LoadError", error);
        if (!error.path().empty()) instance.attr("filename") = to_str(error.path());
        raise(instance);
    } catch (const UnfoldError& error) {
        py::object instance = made("UnfoldError", error);
        instance.attr("refusal") = error.refusal();
        raise(instance);
    } catch (const GeometryError& error) {
        raise(made("GeometryError", error));
    } catch (const WriteError& error) {
        raise(made("WriteError", error));
    } catch (const Error& error) {
        raise(made("Error", error));
    }
}

py::typing::Dict<py::str, py::str> error_kinds() {
    py::typing::Dict<py::str, py::str> result;
    for (const ErrorKind kind : all_error_kinds()) {
        result[name_of(kind)] = to_str(describe(kind));
    }
    return result;
}

/// Throws the kind as the family's C++ exception: lets the tests send every kind through
/// translate().
void throw_error(const std::string& family, const std::string& kind_name, const std::string& text) {
    for (const ErrorKind kind : all_error_kinds()) {
        if (kind_name != name_of(kind)) continue;
        if (family == "LoadError") throw LoadError(kind, text);
        if (family == "GeometryError") throw GeometryError(kind, text);
        if (family == "WriteError") throw WriteError(kind, text);
        throw Error(kind, text);
    }
    throw GeometryError(ErrorKind::unknown_option, "no kind of error is named '" + kind_name + "'");
}

}  // namespace

void bind_error(py::module_& module) {
    py::register_local_exception_translator(translate);
    module.def("error_kinds", &error_kinds, R"(Every kind of error with its short fixed text.

Returns
-------
dict[str, str]
    Name of the kind (the ``kind`` of an exception) to its description.

Examples
--------
>>> import planform
>>> planform.error_kinds()["file_missing"]
'the file does not exist'
)");
    module.def("_throw_error", &throw_error, py::arg("family"), py::arg("kind"), py::arg("text"),
               "Raise the given kind of error through the translator; for the tests.");
}

}  // namespace planform::python
