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

void replace_entry(PyObject* function) {
    PyMethodDef* definition = reinterpret_cast<PyCFunctionObject*>(function)->m_ml;
    if (!dispatch) dispatch = definition->ml_meth;
    if (definition->ml_meth != dispatch) return;
    if (definition->ml_flags == (METH_FASTCALL | METH_KEYWORDS))
        definition->ml_meth =
            reinterpret_cast<PyCFunction>(reinterpret_cast<void (*)()>(&with_fast_keywords));
    else if (definition->ml_flags == (METH_VARARGS | METH_KEYWORDS))
        definition->ml_meth =
            reinterpret_cast<PyCFunction>(reinterpret_cast<void (*)()>(&with_keywords));
}

void replace_in(const py::handle& value) {
    PyObject* object = value.ptr();
    if (PyInstanceMethod_Check(object)) object = PyInstanceMethod_GET_FUNCTION(object);
    if (PyCFunction_Check(object)) {
        replace_entry(object);
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
