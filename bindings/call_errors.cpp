#include <cstdlib>
#include <cstring>
#include <optional>
#include <string>

#include "binding.hpp"

namespace planform::python {

namespace {

/// pybind11's account of arguments that fit no signature lists all signatures and all arguments:
/// pages, for a call with an array. `planform.arguments` makes one line of it that names the
/// argument and what to pass. So that this holds for every function, bound today or later, the one
/// entry through which pybind11 is called is replaced in all functions of the module.
using Keywords = PyObject* (*)(PyObject*, PyObject*, PyObject*);
using FastKeywords = PyObject* (*)(PyObject*, PyObject* const*, Py_ssize_t, PyObject*);

/// pybind11's own entry: the same for all functions of a module.
PyCFunction dispatch = nullptr;

/// Replaces the TypeError that is set by one of ours.
void explain(const py::tuple& positional, const py::dict& named) {
    py::error_already_set error;
    try {
        const py::module_ errors = py::module_::import("planform.errors");
        if (py::isinstance(error.value(), errors.attr("Error"))) {
            error.restore();
            return;
        }
        const py::object instance =
            py::module_::import("planform.arguments")
                .attr("explained")(py::str(error.value()), positional, named);
        PyErr_SetObject(py::type::of(instance).ptr(), instance.ptr());
    } catch (py::error_already_set& other) {
        other.restore();
    }
}

PyObject* with_keywords(PyObject* self, PyObject* positional, PyObject* named) {
    PyObject* result =
        reinterpret_cast<Keywords>(reinterpret_cast<void (*)()>(dispatch))(self, positional, named);
    if (!result && PyErr_ExceptionMatches(PyExc_TypeError))
        explain(py::reinterpret_borrow<py::tuple>(positional),
                named ? py::reinterpret_borrow<py::dict>(named) : py::dict());
    return result;
}

PyObject* with_fast_keywords(PyObject* self, PyObject* const* values, Py_ssize_t count,
                             PyObject* names) {
    PyObject* result = reinterpret_cast<FastKeywords>(reinterpret_cast<void (*)()>(dispatch))(
        self, values, count, names);
    if (!result && PyErr_ExceptionMatches(PyExc_TypeError)) {
        const auto plain = static_cast<std::size_t>(PyVectorcall_NARGS(count));
        py::tuple positional(plain);
        for (std::size_t i = 0; i < plain; ++i)
            positional[i] = py::reinterpret_borrow<py::object>(values[i]);
        py::dict named;
        const Py_ssize_t named_count = names ? PyTuple_GET_SIZE(names) : 0;
        for (Py_ssize_t i = 0; i < named_count; ++i)
            named[PyTuple_GET_ITEM(names, i)] =
                py::reinterpret_borrow<py::object>(values[plain + static_cast<std::size_t>(i)]);
        explain(positional, named);
    }
    return result;
}

/// False if the function is none of pybind11's, or was done before.
bool replace_entry(PyObject* function) {
    PyMethodDef* definition = reinterpret_cast<PyCFunctionObject*>(function)->m_ml;
    if (!dispatch) dispatch = definition->ml_meth;
    if (definition->ml_meth != dispatch) return false;
    if (definition->ml_flags == (METH_FASTCALL | METH_KEYWORDS))
        definition->ml_meth =
            reinterpret_cast<PyCFunction>(reinterpret_cast<void (*)()>(&with_fast_keywords));
    else if (definition->ml_flags == (METH_VARARGS | METH_KEYWORDS))
        definition->ml_meth =
            reinterpret_cast<PyCFunction>(reinterpret_cast<void (*)()>(&with_keywords));
    return true;
}

/// What `inspect.signature` shows of a default: a literal as it is, of anything else that there is
/// one.
std::string shown_default(const py::handle& value) {
    if (!value) return "...";
    const bool is_literal = value.is_none() || py::isinstance<py::bool_>(value) ||
                            py::isinstance<py::int_>(value) || py::isinstance<py::float_>(value) ||
                            py::isinstance<py::str>(value);
    const std::string text = is_literal ? std::string(py::repr(value)) : "...";
    return text == "inf" || text == "-inf" || text == "nan" ? "..." : text;
}

/// The name of a parameter; where the binding gives none, the one that pybind11 shows.
std::string parameter_name(const py::detail::function_record& record, std::size_t i) {
    if (i < record.args.size() && record.args[i].name && *record.args[i].name)
        return record.args[i].name;
    if (record.is_method && i == 0) return "self";
    return "arg" + std::to_string(record.is_method ? i - 1 : i);
}

bool has_same_names(const py::detail::function_record& a, const py::detail::function_record& b) {
    if (a.nargs != b.nargs) return false;
    for (std::size_t i = 0; i < a.nargs; ++i)
        if (parameter_name(a, i) != parameter_name(b, i)) return false;
    return true;
}

/// The parameters of a function in the form that `__text_signature__` has (no annotations: the
/// stubs have those), of several signatures with the same names those of the first; nothing for one
/// with others, or with any number of arguments.
std::optional<std::string> text_signature(const py::detail::function_record& record) {
    if (record.has_args || record.has_kwargs) return std::nullopt;
    for (const auto* other = record.next; other != nullptr; other = other->next)
        if (!has_same_names(record, *other)) return std::nullopt;
    std::string text = "(";
    for (std::size_t i = 0; i < record.nargs; ++i) {
        if (i > 0) text += ", ";
        if (i == record.nargs_pos) text += "*, ";
        text += parameter_name(record, i);
        if (i < record.args.size() && record.args[i].value)
            text += "=" + shown_default(record.args[i].value);
        if (i + 1 == record.nargs_pos_only) text += ", /";
    }
    return text + ")";
}

/// Puts the signature where Python looks for that of a compiled function: before its text.
void show_signature(PyObject* function) {
    PyObject* self = PyCFunction_GET_SELF(function);
    const py::detail::function_record* record =
        self ? py::detail::function_record_ptr_from_PyObject(self) : nullptr;
    if (!record) return;
    const std::optional<std::string> signature = text_signature(*record);
    if (!signature) return;
    PyMethodDef* definition = reinterpret_cast<PyCFunctionObject*>(function)->m_ml;
    const std::string text = std::string(definition->ml_name) + *signature + "\n--\n\n" +
                             (definition->ml_doc ? definition->ml_doc : "");
    // pybind11 frees it.
    char* copy = ::strdup(text.c_str());
    if (!copy) return;
    std::free(const_cast<char*>(definition->ml_doc));
    definition->ml_doc = copy;
}

void replace_in(const py::handle& value) {
    PyObject* object = value.ptr();
    if (PyInstanceMethod_Check(object)) object = PyInstanceMethod_GET_FUNCTION(object);
    if (PyCFunction_Check(object)) {
        if (replace_entry(object)) show_signature(object);
    } else if (py::isinstance(value, reinterpret_cast<PyObject*>(&PyStaticMethod_Type))) {
        replace_in(value.attr("__func__"));
    }
}

/// A class of results has no constructor; pybind11 says so in words of its own.
void refuse_construction(const py::handle& type) {
    const std::string name = py::str(type.attr("__name__"));
    type.attr("__init__") = py::cpp_function(
        [name](const py::object&, const py::args&, const py::kwargs&) {
            throw GeometryError(ErrorKind::invalid_argument,
                                "a " + name +
                                    " is not made by hand: functions of planform return it, such "
                                    "as load, silhouette, plates or close_contours");
        },
        py::name("__init__"), py::is_method(type));
}

}  // namespace

void explain_call_errors(py::module_& module) {
    for (const auto& [name, value] : py::dict(module.attr("__dict__"))) {
        replace_in(value);
        const bool is_own_class =
            PyType_Check(value.ptr()) && value.attr("__module__").equal(module.attr("__name__"));
        if (!is_own_class) continue;
        // Without one the constructor is a slot that pybind11 fills.
        const py::object constructor = value.attr("__dict__")["__init__"];
        if (!PyInstanceMethod_Check(constructor.ptr())) refuse_construction(value);
        for (const auto& [member_name, member] : py::dict(value.attr("__dict__")))
            replace_in(member);
    }
}

}  // namespace planform::python
