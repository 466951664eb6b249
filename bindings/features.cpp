#include "datum_like.hpp"

namespace planform::python {

namespace {

constexpr const char* straight_cut_doc =
    R"(What a straight cut makes of a solid, and every feature that it can't make.

Each face is either flat in the top or the bottom, or part of a straight wall through the full thickness, or
belongs to a feature: a blind pocket, step, groove, boss, chamfer, countersink, counterbore, rounded edge,
bevelled wall, cross hole, cavity or free-form surface. Top and bottom are the outermost flat levels that are
at least half as large, holes filled, as the largest level that looks the same way, seen with the datum's
normal pointing up. Other Python threads run meanwhile.

Parameters
----------
solid : Solid
datum : Datum or {'auto', 'xy', 'xz', 'yz'}

Returns
-------
StraightCut

Raises
------
GeometryError
    Naming the solid if the kernel fails on it.

Examples
--------
>>> import pathlib, planform, tempfile
>>> path = planform.write_demo_assembly(pathlib.Path(tempfile.mkdtemp()) / "station.step")
>>> solid = planform.load(path).solids[0]
>>> planform.straight_cut(solid, planform.auto_datum(solid)).is_straight
True
)";

void add_sizes(py::class_<UncuttableFeature>& type) {
    type.def_readonly(
            "depth", &UncuttableFeature::depth,
            "mm along the datum's normal. Pocket, step, counterbore, groove along the sheet: how "
            "deep it reaches below the top (above the bottom); groove in a wall: how deep it "
            "reaches into the wall; boss: its height over the sheet; cross hole: of its axis below "
            "the top, in the middle of its length; else from its lowest to its highest point.")
        .def_readonly(
            "angle", &UncuttableFeature::angle,
            "rad. Between the surface and a straight wall; of a countersink and of a drill's tip "
            "the "
            "full angle of the cone; of a cross hole between its axis and the sheet; else None.")
        .def_readonly("width", &UncuttableFeature::width,
                      "mm. Of a chamfer or bevelled wall on the datum, across it; of a groove in a "
                      "wall along the normal; else None.")
        .def_readonly("diameter", &UncuttableFeature::diameter,
                      "mm. Of round ones, the wide one; else None.")
        .def_readonly("hole_diameter", &UncuttableFeature::hole_diameter,
                      "mm. Of a countersink, counterbore or conical hole, the narrow one; else "
                      "None.")
        .def_readonly("radius", &UncuttableFeature::radius, "mm, of a rounded edge; else None.")
        .def_readonly("axis", &UncuttableFeature::axis,
                      "Of a cross hole: unit vector in datum coordinates (no unit), shape (3,); "
                      "else None.");
}

void bind_feature(py::module_& module) {
    py::class_<UncuttableFeature> type(
        module, "UncuttableFeature",
        R"(One feature of a solid that a straight cut can't make. Lengths are mm, angles radians; heights count
from the bottom.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> feature = planform.straight_cut(station[26], "auto").features[0]
>>> feature.kind, feature.side, round(feature.depth, 3)
('boss', 'top', 20.0)
)");
    type.def_readonly("kind", &UncuttableFeature::kind, "What it is.")
        .def_readonly("side", &UncuttableFeature::side, "From where it is made.")
        .def_property_readonly(
            "word", [](const UncuttableFeature& f) { return std::string(word_for(f.kind)); },
            "The kind in words, e.g. 'blind pocket'.")
        .def_property_readonly(
            "place", [](const UncuttableFeature& f) { return f.place; },
            "On the datum, mm, shape (2,): its axis, else the middle of its box.")
        .def_property_readonly(
            "bounds", [](const UncuttableFeature& f) { return to_array(f.box); },
            "Its box on the datum, mm, shape (2, 2): lower left and upper right corner.")
        .def_readonly("low", &UncuttableFeature::low, "Height of its lowest point, mm.")
        .def_readonly("high", &UncuttableFeature::high, "Height of its highest point, mm.")
        .def_readonly("faces", &UncuttableFeature::faces,
                      "Numbers of its faces in the solid, from 1.")
        .def_property_readonly(
            "text", [](const UncuttableFeature& f) { return f.text; },
            "What it is, with its sizes, and what the silhouette shows there.")
        .def("__repr__", [](const UncuttableFeature& f) {
            return std::string(
                py::str("UncuttableFeature(kind={!r}, side={!r}, place=({:.6g}, {:.6g}), "
                        "depth={:.6g})")
                    .format(f.kind, f.side, f.place.x(), f.place.y(), f.depth));
        });
    type.def("finding", py::overload_cast<const UncuttableFeature&, const RuleSet&>(&finding_of),
             py::arg("rules"),
             R"(This feature as a finding of an inspection; see `inspect`.

Parameters
----------
rules : RuleSet

Returns
-------
Finding or None
    Of the rule 'straight_cut', with its severity: measured in degrees for a bevelled wall, else in mm by
    its depth. None if the rule is off.
)");
    add_sizes(type);
}

void bind_cut(py::module_& module) {
    py::class_<StraightCut>(
        module, "StraightCut",
        R"(What a straight cut makes of a solid, and what it can't. Heights are mm over the datum.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> cut = planform.straight_cut(station[20], "auto")
>>> cut.thickness, cut.features
(6.0, [])
)")
        .def_readonly("bottom", &StraightCut::bottom, "Height of the bottom, mm.")
        .def_readonly("top", &StraightCut::top, "Height of the top, mm.")
        .def_readonly("bottom_is_flat", &StraightCut::bottom_is_flat,
                      "False if no flat face looks down: the bottom is then that of the box.")
        .def_readonly("top_is_flat", &StraightCut::top_is_flat,
                      "False if no flat face looks up: the top is then that of the box.")
        .def_property_readonly("thickness", &StraightCut::thickness, "From bottom to top, mm.")
        .def_property_readonly("is_straight", &StraightCut::is_straight,
                               "True if a straight cut makes all of it.")
        .def_readonly("features", &StraightCut::features,
                      "What it can't make, by side, kind and place.")
        .def("__repr__", [](const StraightCut& cut) {
            return std::string(py::str("StraightCut(thickness={:.6g}, features={})")
                                   .format(cut.thickness(), cut.features.size()));
        });
}

}  // namespace

void bind_features(py::module_& module) {
    bind_feature(module);
    bind_cut(module);
    module.def(
        "straight_cut",
        [](const Solid& solid, DatumLike datum) {
            return straight_cut(solid, datum.of({&solid, 1}));
        },
        py::arg("solid"), py::arg("datum"), without_gil(), straight_cut_doc);
    module.def(
        "feature_marks",
        [](const Solid& solid, DatumLike datum, MarkedSides sides, double tolerance) {
            return feature_marks(solid, datum.of({&solid, 1}), sides, tolerance);
        },
        py::arg("solid"), py::arg("datum"), py::arg("sides") = MarkedSides::up,
        py::arg("tolerance") = default_tolerance, without_gil(),
        R"(The edges of recesses and raised areas of a plate, as marks.

Pockets, counterbores, countersinks, steps, grooves, sunk and raised text: the cut itself is the outline through
the full thickness. A rim that runs into the outline is an open mark. Chamfers and rounded edges have no marks:
they run along the cut.

Parameters
----------
solid : Solid
datum : Datum or {'auto', 'xy', 'xz', 'yz'}
    The solid is seen from the tip of its normal; see `auto_datum`.
sides : {'up', 'down', 'both', 'none'}, optional
    Which sides are marked.
tolerance : float, optional
    In mm, for edges that have no exact form.

Returns
-------
list of Mark
    On the datum, mm; the depth is that of the feature below its side, negative for what is raised.

Raises
------
GeometryError
    For a tolerance that is not positive and finite; if the kernel fails on the solid, which the message names.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> marks = planform.feature_marks(station[26], "auto")
>>> [(mark.name, round(mark.depth, 3)) for mark in marks]
[('boss', -20.0), ('boss', -21.098)]
)");
}

}  // namespace planform::python
