#pragma once

/// Values as nested tuples of numbers and bytes: what pickling, equality and hashing go by.
///
/// `Fields` names the members of a struct, in their order; `StateOf` is specialised for classes
/// that keep their members to themselves. Numbers are kept bit for bit.

#include <array>
#include <cstddef>
#include <cstdint>
#include <exception>
#include <new>
#include <optional>
#include <string>
#include <tuple>
#include <type_traits>
#include <utility>
#include <variant>
#include <vector>

#include "binding.hpp"

namespace planform::python {

/// The members of a struct: `static constexpr std::tuple members{&S::a, &S::b}`, all of them.
template <class Struct>
struct Fields;

/// `static py::object out(const T&)` and `static T in(py::handle)`.
template <class T>
struct StateOf;

template <class T>
concept HasFields = requires {
    Fields<T>::members;
};

/// The state of a value, and back.
template <class T>
py::object state_of(const T& value) {
    return StateOf<T>::out(value);
}
template <class T>
T from_state(py::handle state) {
    return StateOf<T>::in(state);
}

/// Item of a tuple; std::out_of_range, IndexError in Python, if there is none.
inline py::object item_of(py::handle state, std::size_t index) {
    const auto items = py::cast<py::tuple>(state);
    if (index >= items.size()) throw py::index_error("the pickled value is damaged");
    return items[index];
}

template <HasFields T>
struct StateOf<T> {
    static py::object out(const T& value) {
        return std::apply(
            [&](auto... member) -> py::object {
                return py::make_tuple(state_of(value.*member)...);
            },
            Fields<T>::members);
    }
    static T in(py::handle state) {
        constexpr std::size_t count = std::tuple_size_v<decltype(Fields<T>::members)>;
        return made(state, std::make_index_sequence<count>());
    }

  private:
    template <auto index>
    using Member =
        std::remove_cvref_t<decltype(std::declval<T>().*std::get<index>(Fields<T>::members))>;
    template <std::size_t... index>
    static T made(py::handle state, std::index_sequence<index...>) {
        return T{from_state<Member<index>>(item_of(state, index))...};
    }
};

template <class T>
requires(std::is_integral_v<T> || std::is_enum_v<T>) struct StateOf<T> {
    static py::object out(T value) {
        if constexpr (std::is_same_v<T, bool>)
            return py::bool_(value);
        else
            return py::int_(static_cast<long long>(value));
    }
    static T in(py::handle state) {
        if constexpr (std::is_same_v<T, bool>)
            return state.cast<bool>();
        else
            return static_cast<T>(state.cast<long long>());
    }
};

template <>
struct StateOf<double> {
    static py::object out(double value);
    static double in(py::handle state) { return state.cast<double>(); }
};

template <>
struct StateOf<std::string> {
    /// Bytes: text of files need not be UTF-8.
    static py::object out(const std::string& value) { return py::bytes(value); }
    static std::string in(py::handle state) { return state.cast<std::string>(); }
};

template <class T>
struct StateOf<std::optional<T>> {
    static py::object out(const std::optional<T>& value) {
        return value ? py::object(py::make_tuple(state_of(*value))) : py::none();
    }
    static std::optional<T> in(py::handle state) {
        if (state.is_none()) return std::nullopt;
        return from_state<T>(item_of(state, 0));
    }
};

template <class T>
struct StateOf<std::vector<T>> {
    static py::object out(const std::vector<T>& values) {
        py::tuple result(values.size());
        for (std::size_t i = 0; i < values.size(); ++i)
            result[i] = state_of(static_cast<const T&>(values[i]));
        return result;
    }
    static std::vector<T> in(py::handle state) {
        std::vector<T> result;
        for (const py::handle item : py::cast<py::tuple>(state))
            result.push_back(from_state<T>(item));
        return result;
    }
};

template <class T, std::size_t count>
struct StateOf<std::array<T, count>> {
    static py::object out(const std::array<T, count>& values) {
        return state_of(std::vector<T>(values.begin(), values.end()));
    }
    static std::array<T, count> in(py::handle state) {
        std::array<T, count> result{};
        for (std::size_t i = 0; i < count; ++i) result[i] = from_state<T>(item_of(state, i));
        return result;
    }
};

template <int rows, int columns, int options, int most_rows, int most_columns>
struct StateOf<Eigen::Matrix<double, rows, columns, options, most_rows, most_columns>> {
    using Matrix = Eigen::Matrix<double, rows, columns, options, most_rows, most_columns>;
    static py::object out(const Matrix& value) {
        return state_of(std::vector<double>(value.data(), value.data() + value.size()));
    }
    static Matrix in(py::handle state) {
        Matrix result;
        for (int i = 0; i < result.size(); ++i)
            result.data()[i] = from_state<double>(item_of(state, static_cast<std::size_t>(i)));
        return result;
    }
};

template <>
struct StateOf<Box2> {
    static py::object out(const Box2& box) {
        return py::make_tuple(state_of(Point2(box.min())), state_of(Point2(box.max())));
    }
    static Box2 in(py::handle state) {
        Box2 box;
        box.min() = from_state<Point2>(item_of(state, 0));
        box.max() = from_state<Point2>(item_of(state, 1));
        return box;
    }
};

template <>
struct StateOf<Transform2> {
    static py::object out(const Transform2& motion) {
        return state_of(Eigen::Matrix3d(motion.matrix()));
    }
    static Transform2 in(py::handle state) {
        return Transform2(from_state<Eigen::Matrix3d>(state));
    }
};

/// Of a variant: which alternative, and its state.
template <class... Kinds>
struct StateOf<std::variant<Kinds...>> {
    using Variant = std::variant<Kinds...>;
    static py::object out(const Variant& value) {
        return std::visit(
            [&](const auto& kind) -> py::object {
                return py::make_tuple(value.index(), state_of(kind));
            },
            value);
    }
    static Variant in(py::handle state) {
        return in(item_of(state, 0).template cast<std::size_t>(), item_of(state, 1),
                  std::index_sequence_for<Kinds...>());
    }

  private:
    template <std::size_t... index>
    static Variant in(std::size_t wanted, py::handle state, std::index_sequence<index...>) {
        std::optional<Variant> result;
        ((index == wanted ? void(result = from_state<Kinds>(state)) : void()), ...);
        if (!result) throw py::index_error("the pickled value is damaged");
        return *std::move(result);
    }
};

/// Copies of what does not change are the object itself.
template <class Class>
void add_copies(Class& type) {
    type.def("__copy__", [](const py::object& self) { return self; })
        .def(
            "__deepcopy__", [](const py::object& self, const py::dict&) { return self; },
            py::arg("memo"));
}

/// A number that pickles carry beside a state, so that damage is found: any change of the state, or
/// of the version of the library, gives another one but for one in 2^64. FNV-1a, 64 bits (G.
/// Fowler, L. C. Noll, K.-P. Vo; constants from memory).
std::uint64_t checksum_of(py::handle state);

/// Throws LoadError (file_damaged) with the name of the class.
[[noreturn]] void refuse_pickle(const std::string& name);

/// Pickling and copies by state. What was damaged on its way, or pickled by another version, is a
/// LoadError.
template <class T>
void add_pickling(py::class_<T>& type) {
    const auto name = type.attr("__name__").template cast<std::string>();
    type.def(py::pickle(
        [](const T& value) {
            const py::object state = state_of(value);
            return py::make_tuple(state, checksum_of(state));
        },
        [name](const py::tuple& pickled) -> T {
            try {
                if (pickled.size() == 2 &&
                    pickled[1].template cast<std::uint64_t>() == checksum_of(pickled[0]))
                    return from_state<T>(pickled[0]);
            } catch (const std::bad_alloc&) {
                throw;
            } catch (const std::exception&) {
                // Whatever can't be made of it, it is damaged.
            }
            refuse_pickle(name);
        }));
    add_copies(type);
}

/// Pickling, copies, equality and hash by state, of a class that is bound already.
template <class T>
void add_value(const py::module_& module, const char* name) {
    auto type = py::reinterpret_borrow<py::class_<T>>(module.attr(name));
    add_pickling(type);
    type.def("__eq__",
             [](const T& value, const py::object& other) {
                 return py::isinstance<T>(other) &&
                        state_of(value).equal(state_of(other.cast<const T&>()));
             })
        .def("__hash__", [](const T& value) { return py::hash(state_of(value)); });
}

}  // namespace planform::python
