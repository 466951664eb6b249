#pragma once

/// The parts of a value, read where they are: no list is built to look at one of them.

#include <cstddef>
#include <vector>

#include "binding.hpp"

namespace planform::python {

/// Shows as ``collections.abc.Sequence[T]``.
template <class T>
class SequenceOf : public py::object {
  public:
    using py::object::object;
};

/// Items of a vector that belongs to a Python object, which they keep alive.
template <class T>
struct Items {
    const std::vector<T>* items;
    py::object owner;

    py::object at(std::size_t index) const {
        return py::cast((*items)[index], py::return_value_policy::reference_internal, owner);
    }
    py::list list(const py::slice& slice) const {
        py::ssize_t start = 0, stop = 0, step = 0, count = 0;
        if (!slice.compute(static_cast<py::ssize_t>(items->size()), &start, &stop, &step, &count))
            throw py::error_already_set();
        py::list result;
        for (py::ssize_t i = 0; i < count; ++i, start += step)
            result.append(at(static_cast<std::size_t>(start)));
        return result;
    }
    py::list list() const {
        py::list result;
        for (std::size_t i = 0; i < items->size(); ++i) result.append(at(i));
        return result;
    }
};

/// The items as a sequence.
template <class T>
SequenceOf<T> sequence(const std::vector<T>& items, const py::object& owner) {
    return py::reinterpret_steal<SequenceOf<T>>(py::cast(Items<T>{&items, owner}).release());
}

/// Index of an item, counted from the end if below nought; IndexError if there is none.
inline std::size_t index_in(py::ssize_t index, std::size_t count, const char* what) {
    const auto size = static_cast<py::ssize_t>(count);
    const py::ssize_t place = index < 0 ? index + size : index;
    if (place >= 0 && place < size) return static_cast<std::size_t>(place);
    throw py::index_error("there are " + std::to_string(count) + " " + what + ", none has number " +
                          std::to_string(index));
}

}  // namespace planform::python

namespace pybind11::detail {

template <class T>
struct handle_type_name<planform::python::SequenceOf<T>> {
    static constexpr auto name =
        const_name("collections.abc.Sequence[") + make_caster<T>::name + const_name("]");
};

}  // namespace pybind11::detail
