#include "binding.hpp"

namespace planform::python {

namespace {

void bind_side(py::module_& module) {
    py::class_<SideUp>(module, "SideUp", R"(How a part lies.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> side = planform.side_up(station[20])
>>> side.text, side.datum.normal.round(6).tolist()
("the top view of the part's own frame shows it", [1.0, 0.0, 0.0])
)")
        .def_readonly("datum", &SideUp::datum,
                      "Its normal points up; the origin is the lower left corner of the shadow, at "
                      "the bottom.")
        .def_readonly("features_up", &SideUp::features_up,
                      "True if the side that lies up carries features.")
        .def_readonly("features_down", &SideUp::features_down,
                      "True if the side below carries features: only if both do.")
        .def_property_readonly("is_worked_from_both_sides", &SideUp::is_worked_from_both_sides,
                               "Features on both sides: the part must be turned over.")
        .def_property_readonly(
            "text", [](const SideUp& side) { return to_str(side.text); },
            "Why this side, one sentence.")
        .def("__repr__", [](const SideUp& side) {
            return std::string(py::str("SideUp(features_up={}, features_down={})")
                                   .format(side.features_up, side.features_down));
        });
    module.def(
        "side_up", [](const SolidList& list) { return side_up(list.solids); }, py::arg("solid"),
        without_gil(),
        R"(Which side of a flat part lies up, and which way round it is drawn: the rule of all commands.

The side that carries features (pockets, countersinks, raised or sunk text) lies up. With features on neither
side or on both, it is the side that the part's own frame shows in its top, front or right view: the one that
looks along +z, else along -y, else along +x. Never mirrored; the drawing's x is the projection of the part's x
axis (of its y axis, where x is the normal). The answer does not depend on where an instance lies. The flat
sides are those of the plate that the part is (see `plates`), else its largest planar face and what lies
opposite.

Parameters
----------
solid : Solid, Model or iterable of Solid
    One part; several bodies are laid together.

Returns
-------
SideUp

Raises
------
GeometryError
    If there is no planar face, or no solid.

Examples
--------
>>> import pathlib, planform, tempfile
>>> path = planform.write_demo_assembly(pathlib.Path(tempfile.mkdtemp()) / "station.step")
>>> planform.side_up(planform.load(path).solids[0]).text
"the top view of the part's own frame shows it"
)");
    module.def(
        "auto_datum", [](const SolidList& list) { return auto_datum(list.solids); },
        py::arg("solid"), without_gil(),
        R"(The datum of `side_up`: the part as it lies on the table, the right side up, not mirrored.

Parameters
----------
solid : Solid, Model or iterable of Solid
    One part; several bodies that are drawn together have one datum.

Returns
-------
Datum
    In model coordinates, mm.

Raises
------
GeometryError
    If there is no planar face, or no solid.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> planform.auto_datum(station["base plate"]).normal.round(6).tolist()
[0.0, 0.0, 1.0]
)");
}

void bind_groups(py::module_& module) {
    module.def(
        "coplanar_groups",
        [](const SolidList& list) {
            std::vector<std::vector<Solid>> groups;
            for (const std::vector<int>& group : coplanar_groups(list.solids)) {
                groups.emplace_back();
                for (const int index : group)
                    groups.back().push_back(list.solids[static_cast<std::size_t>(index)]);
            }
            return groups;
        },
        py::arg("solids"), without_gil(),
        R"(Which solids lie flat beside or in each other and make one drawing.

Letters of a text, say, or what lies loose in a cut-out: each group is a solid with the largest planar face
that is left and all those between the two planes, parallel to that face, that bound it. Plates that lie
on each other or at an angle are groups of their own.

Parameters
----------
solids : Solid, Model or iterable of Solid

Returns
-------
list of list of Solid
    In the order given.

Raises
------
GeometryError
    If the kernel fails on a solid; the message names it.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> [len(group) for group in planform.coplanar_groups(station) if len(group) > 1]
[2, 2, 2, 6, 2]
)");
}

}  // namespace

void bind_side_up(py::module_& module) {
    bind_side(module);
    bind_groups(module);
}

}  // namespace planform::python
