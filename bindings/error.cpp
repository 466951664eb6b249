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
    }
    return "";
}

void raise(const char* python_class, const Error& error) {
    py::object type = py::module_::import("planform.errors").attr(python_class);
    py::object instance = type(to_str(error.what()));
    instance.attr("kind") = name_of(error.kind());
    PyErr_SetObject(type.ptr(), instance.ptr());
}

void translate(std::exception_ptr pointer) {
    try {
        if (pointer) std::rethrow_exception(pointer);
    } catch (const LoadError& error) {
        raise("LoadError", error);
    } catch (const GeometryError& error) {
        raise("GeometryError", error);
    } catch (const WriteError& error) {
        raise("WriteError", error);
    } catch (const Error& error) {
        raise("Error", error);
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
