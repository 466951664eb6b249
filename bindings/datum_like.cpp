#include "datum_like.hpp"

namespace planform::python {

namespace {

std::optional<Datum> datum_named(std::string_view word) {
    if (word == "xy") return Datum::xy();
    if (word == "xz") return Datum::xz();
    if (word == "yz") return Datum::yz();
    return std::nullopt;
}

}  // namespace

}  // namespace planform::python

namespace pybind11::detail {

namespace python = planform::python;

bool type_caster<python::DatumLike>::load(handle source, bool) {
    if (isinstance<planform::Datum>(source)) {
        value.datum = source.cast<planform::Datum>();
        return true;
    }
    if (!isinstance<str>(source)) return false;
    const auto word = source.cast<std::string>();
    if (word == "auto") return true;
    value.datum = python::datum_named(word);
    if (!value.datum) python::refuse_word("datum", word, {"auto", "xy", "xz", "yz"});
    return true;
}

bool type_caster<python::PlaneLike>::load(handle source, bool) {
    if (isinstance<planform::Datum>(source)) {
        value.datum = source.cast<planform::Datum>();
        return true;
    }
    if (!isinstance<str>(source)) return false;
    const auto word = source.cast<std::string>();
    const std::optional<planform::Datum> datum = python::datum_named(word);
    if (!datum) python::refuse_word("datum", word, {"xy", "xz", "yz"});
    value.datum = *datum;
    return true;
}

}  // namespace pybind11::detail
