#include "datum_like.hpp"

namespace planform::python {

namespace {

constexpr const char* silhouette_doc =
    R"(The outline of the shadow of the solids on the datum, through-holes included.

Closed, oriented and free of self-crossing, or an error. Other Python threads run meanwhile.

Parameters
----------
solids : Solid, Model or iterable of Solid
datum : Datum or {'auto', 'xy', 'xz', 'yz'}
tolerance : float, optional
    Bound in mm on the distance between the true outline and the result; lines and arcs of the solid
    are exact to 1e-9 relative whatever the tolerance.
merge : {'union', 'keep'}, optional
    The union of all solids, or side by side, each profile with its solid's name.
at : {'shadow', 'top', 'bottom', 'through'}, optional
    Which outline of each solid: of its shadow (a countersunk hole shows the drilled hole), just below its
    flat top (there the wide circle), just above its flat bottom, or where material stands through the full
    thickness. A plate with straight walls has the same at all four. Top and bottom are as `straight_cut`
    gives them; a note of the result says what was taken.
verify : {'quick', 'full'}, optional
    How much is proven before the outline is handed out: by the laws that cost next to nothing, or by those
    that cost as much again, too. `ProfileSet.proof` tells what was asked. There is no way to prove nothing.

Returns
-------
ProfileSet
    In the datum's coordinates, mm.

Raises
------
GeometryError
    Naming the solid and the face if an outline can't be had; for an unknown word or a tolerance that
    is not a positive finite number; where a solid has no flat top or bottom to take; where an outline
    breaks a law that every right one keeps (`kind` is 'law_broken').

Examples
--------
>>> import pathlib, planform, tempfile
>>> path = planform.write_demo_assembly(pathlib.Path(tempfile.mkdtemp()) / "station.step")
>>> solid = planform.load(path).solids[0]
>>> planform.silhouette(solid, planform.auto_datum(solid)).area > 0
True
)";

constexpr const char* section_doc =
    R"(The outline of the solids where the datum, moved by an offset, cuts them.

Where the plane lies within 1e-7 mm in a face, along an edge or in a vertex, or touches a surface, the
answer is the limit from one side: by default the material just below, on the side that the normal points
away from. A plane that misses gives an empty set with a note that says so. Other Python threads run
meanwhile.

Parameters
----------
solids : Solid, Model or iterable of Solid
datum : Datum or {'auto', 'xy', 'xz', 'yz'}
offset : float, optional
    Distance in mm by which the datum is moved along its normal.
tolerance : float, optional
    Bound in mm on the distance between the true outline and the result.
merge : {'union', 'keep'}, optional
    The union of all solids, or side by side, each profile with its solid's name.
side : {'below', 'above'}, optional
    Which material counts where the plane lies in a face.

Returns
-------
ProfileSet
    In the datum's coordinates, mm.

Raises
------
GeometryError
    Naming the solid and the face if an outline can't be had; for an unknown word, a tolerance that is
    not a positive finite number, or an offset that is not finite.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> gable = station[20]
>>> cut = planform.section(gable, planform.auto_datum(gable), offset=3.0)
>>> round(cut.area * 6 / gable.volume, 9)  # 6 mm thick
0.999999335
)";

constexpr const char* stack_doc =
    R"(Solids made ready to be cut by many planes parallel to the datum.

What the planes share is found once; each section is that of section(). Used by sections().

Parameters
----------
solids : Solid, Model or iterable of Solid
datum : Datum or {'auto', 'xy', 'xz', 'yz'}
tolerance : float, optional
    Bound in mm on the distance between the true outline and the result.
merge : {'union', 'keep'}, optional
    The union of all solids, or side by side, each profile with its solid's name.
side : {'below', 'above'}, optional
    Which material counts where a plane lies in a face.

Raises
------
GeometryError
    For a solid that is not closed, an unknown word or a tolerance that is not a positive finite number.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> gable = station[20]
>>> stack = planform.SectionStack(gable, planform.auto_datum(gable))
>>> [round(stack.at(height).area, 1) for height in (1, 5)]
[12600.8, 12600.8]
)";

}  // namespace

void bind_flatten(py::module_& module) {
    module.def(
        "silhouette",
        [](const SolidList& list, DatumLike datum, double tolerance, Merge merge, At at,
           Verify verify) {
            return silhouette(list.solids, datum.of(list.solids), {tolerance, merge, at, verify});
        },
        py::arg("solids"), py::arg("datum"), py::arg("tolerance") = 0.01,
        py::arg("merge") = Merge::unite, py::kw_only(), py::arg("at") = At::shadow,
        py::arg("verify") = Verify::quick, without_gil(), silhouette_doc);
    module.def(
        "section",
        [](const SolidList& list, DatumLike datum, double offset, double tolerance, Merge merge,
           Side side) {
            return section(list.solids, datum.of(list.solids), offset, {tolerance, merge, side});
        },
        py::arg("solids"), py::arg("datum"), py::arg("offset") = 0.0, py::arg("tolerance") = 0.01,
        py::arg("merge") = Merge::unite, py::arg("side") = Side::below, without_gil(), section_doc);
    py::class_<SectionStack>(module, "SectionStack", stack_doc)
        .def(py::init([](const SolidList& list, DatumLike datum, double tolerance, Merge merge,
                         Side side) {
                 return SectionStack(list.solids, datum.of(list.solids), {tolerance, merge, side});
             }),
             py::arg("solids"), py::arg("datum"), py::arg("tolerance") = 0.01,
             py::arg("merge") = Merge::unite, py::arg("side") = Side::below, without_gil())
        .def("at", &SectionStack::at, py::arg("offset"), without_gil(),
             "The section by the datum moved by `offset` mm along its normal, as a ProfileSet. "
             "Raises "
             "GeometryError naming the solid and the face if it can't be had.")
        .def_property_readonly(
            "extent",
            [](const SectionStack& stack) {
                const Interval extent = stack.extent();
                return std::pair(extent.first, extent.last);
            },
            "Offsets in mm between which there is material: a bound, not always tight; lower > "
            "upper "
            "without solids.");
}

}  // namespace planform::python
