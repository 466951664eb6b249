#pragma once

/// Options that are words in Python ("union", "arcs", "mm") and enums in C++. In signatures and
/// stubs they show as typing.Literal; a wrong word raises GeometryError(unknown_option) with the
/// valid ones.

#include <pybind11/pybind11.h>

#include <cstddef>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "word_tables.hpp"

namespace planform::python {

template <class Enum>
concept HasWords = requires {
    Words<Enum>::table;
};

/// The type in signatures: "typing.Literal['union', 'keep']".
template <HasWords Enum>
constexpr auto literal() {
    constexpr std::string_view start = "typing.Literal[", end = "]";
    constexpr std::size_t size = [=] {
        std::size_t sum = start.size() + end.size() - 2;  // no comma and space before the first
        for (const auto& entry : Words<Enum>::table)
            sum += std::string_view(entry.first).size() + 4;
        return sum;
    }();
    pybind11::detail::descr<size> result;
    std::size_t place = 0;
    const auto add = [&](std::string_view text) {
        for (const char c : text) result.text[place++] = c;
    };
    add(start);
    for (const auto& entry : Words<Enum>::table) {
        if (place > start.size()) add(", ");
        add("'");
        add(entry.first);
        add("'");
    }
    add(end);
    return result;
}

/// Throws GeometryError(unknown_option) that lists the valid words; of many those that are nearest.
[[noreturn]] void refuse_word(std::string_view option, std::string_view word,
                              const std::vector<std::string>& valid);

/// The enum's value for a word; throws GeometryError(unknown_option) that lists the valid words.
template <HasWords Enum>
Enum value_of(std::string_view word) {
    std::vector<std::string> valid;
    for (const auto& [candidate, value] : Words<Enum>::table) {
        if (word == candidate) return value;
        valid.emplace_back(candidate);
    }
    refuse_word(Words<Enum>::option, word, valid);
}

template <HasWords Enum>
const char* word_of(Enum wanted) {
    for (const auto& [word, value] : Words<Enum>::table) {
        if (value == wanted) return word;
    }
    return "";
}

/// Converts one such enum from and to a Python str.
template <HasWords Enum>
struct WordCaster {
    PYBIND11_TYPE_CASTER(Enum, literal<Enum>());

    bool load(pybind11::handle source, bool) {
        if (!pybind11::isinstance<pybind11::str>(source)) return false;
        value = value_of<Enum>(pybind11::cast<std::string>(source));
        return true;
    }
    static pybind11::handle cast(Enum source, pybind11::return_value_policy, pybind11::handle) {
        return pybind11::str(word_of(source)).release();
    }
};

}  // namespace planform::python

namespace pybind11::detail {

#if PYBIND11_VERSION_MAJOR >= 3
template <planform::python::HasWords Enum>
struct type_caster_enum_type_enabled<Enum> : std::false_type {};
#endif

template <planform::python::HasWords Enum>
class type_caster<Enum> : public planform::python::WordCaster<Enum> {};

}  // namespace pybind11::detail
