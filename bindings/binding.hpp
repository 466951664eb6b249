#pragma once

/// What all binding files share: the conversions between planform's values and Python's.

#include <pybind11/eigen.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>
#include <pybind11/stl/filesystem.h>
#include <pybind11/typing.h>

#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "planform/planform.hpp"
#include "words.hpp"

namespace planform::python {

namespace py = pybind11;

/// Long calls let other Python threads run.
using without_gil = py::call_guard<py::gil_scoped_release>;

/// A getter as a function that lets other Python threads run meanwhile: properties take no call
/// guard.
template <class Class, class Result>
auto unlocked(Result (Class::*getter)() const) {
    return [getter](const Class& object) {
        const py::gil_scoped_release released;
        return std::decay_t<Result>((object.*getter)());
    };
}

/// The number, if it is finite; throws GeometryError otherwise.
double finite(double number, const char* name);

/// The keyword `validate` of constructors.
inline Validate validation(bool wanted) { return wanted ? Validate::yes : Validate::no; }

using Points2 = Eigen::Matrix<double, Eigen::Dynamic, 2, Eigen::RowMajor>;
using Bounds2 = Eigen::Matrix<double, 2, 2, Eigen::RowMajor>;
using Bounds3 = Eigen::Matrix<double, 2, 3, Eigen::RowMajor>;

/// An (n, 2) array of the points.
Points2 to_array(const std::vector<Point2>& points);
/// Rows: lower left corner, upper right corner; NaN throughout for an empty box.
Bounds2 to_array(const Box2& box);
Bounds3 to_array(const Box3& box);
/// A (2, 3) or (3, 3) matrix (last row 0 0 1) as a transform; throws GeometryError for any other.
Transform2 to_transform(const Eigen::MatrixXd& matrix);

/// Text of a file as a str: bytes that are not UTF-8 become U+FFFD instead of an exception.
py::str to_str(std::string_view text);
using StrTuple = py::typing::Tuple<py::str, py::ellipsis>;
StrTuple to_strs(const std::vector<std::string>& texts);

/// The solids of a call: one Solid, a Model, or any iterable of Solids.
struct SolidList {
    std::vector<Solid> solids;
};

void bind_error(py::module_& module);
/// The tables of words, for the command line and for what Python checks itself.
void bind_words(py::module_& module);
void bind_curve(py::module_& module);
void bind_datum(py::module_& module);
void bind_proof(py::module_& module);
void bind_profile(py::module_& module);
/// Of bind_profile(): the set, once what it holds is there.
void bind_profile_set(py::module_& module);
/// Adds booleans, islands and drop-outs to ProfileSet, which bind_profile() has made.
void bind_merge(py::module_& module);
void bind_drawing(py::module_& module);
void bind_inspect(py::module_& module);
/// Adds offset() and the like to ProfileSet, which bind_profile() has made; after bind_inspect().
void bind_offset(py::module_& module);
/// The checks and searches of layouts, for `planform.sheets`.
void bind_layout(py::module_& module);
void bind_model(py::module_& module);
void bind_cache(py::module_& module);
void bind_mesh(py::module_& module);
void bind_flatten(py::module_& module);
void bind_features(py::module_& module);
void bind_side_up(py::module_& module);
void bind_unfold(py::module_& module);
/// After bind_side_up() and bind_unfold().
void bind_plate(py::module_& module);
void bind_contact(py::module_& module);
/// After bind_contact().
void bind_allowance(py::module_& module);
/// After bind_allowance().
void bind_plan(py::module_& module);
void bind_ways(py::module_& module);
/// Refuses what is no number by name.
Motion motion_of(double speed, std::optional<double> acceleration);
/// Adds the writers to ProfileSet, which bind_profile() has made.
void bind_write(py::module_& module);
/// Adds reading as sequences to what is one; after bind_model() and bind_plate().
void bind_sequences(py::module_& module);
/// Adds questions about places to ProfileSet, which bind_profile() has made.
void bind_queries(py::module_& module);
/// Adds verbs that return a changed ProfileSet, which bind_profile() has made.
void bind_verbs(py::module_& module);
/// Adds pickling, copies, equality and hashes to all that is a value; after all of them.
void bind_values(py::module_& module);
/// Last of all: calls with arguments that fit no signature raise an error of ours, in one line.
void explain_call_errors(py::module_& module);

}  // namespace planform::python

namespace pybind11::detail {

template <>
struct type_caster<planform::python::SolidList> {
    PYBIND11_TYPE_CASTER(planform::python::SolidList,
                         const_name("planform._planform.Solid | planform._planform.Model | "
                                    "collections.abc.Iterable[planform._planform.Solid]"));

    bool load(handle source, bool convert);
};

}  // namespace pybind11::detail
