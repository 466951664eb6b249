#include "binding.hpp"

namespace planform::python {

namespace {

void add_identity(py::class_<Solid>& type) {
    type.def_property_readonly(
            "name", [](const Solid& solid) { return to_str(solid.name()); },
            "Name of the part as the file gives it (data: never use it as a path); 'solid N' if "
            "none.")
        .def_property_readonly(
            "path", [](const Solid& solid) { return to_strs(solid.path()); },
            "Names from the root of the assembly down to this solid, its own last.")
        .def_property_readonly(
            "color", &Solid::color,
            "Red, green, blue, each 0 to 1 (sRGB, no unit); None if not coloured.")
        .def_property_readonly(
            "layers", [](const Solid& solid) { return to_strs(solid.layers()); },
            "Names of the layers it lies on, sorted: those of the instance, else of the solid, its "
            "part, all its faces, the assembly above; empty if the file gives none.")
        .def_property_readonly(
            "placement",
            [](const Solid& solid) { return Eigen::Matrix4d(solid.placement().matrix()); },
            "Placement of the distinct shape in the model: shape (4, 4), last column in mm.")
        .def_property_readonly(
            "shape_index", &Solid::shape_index,
            "Which distinct shape this is an instance of: equal numbers, same shape.")
        .def_property_readonly(
            "part", &Solid::part,
            "Which placed part of the model this body belongs to: equal numbers, bodies of one "
            "part. A BREP file names no parts: each of its bodies is one.")
        .def_property_readonly(
            "part_name", [](const Solid& solid) { return to_str(solid.part_name()); },
            "Name of that part; `name` adds a number where the part has several bodies.")
        .def_property_readonly(
            "notes", [](const Solid& solid) { return to_strs(solid.notes()); },
            "Remarks on this solid, e.g. that a closed shell was taken as a solid.");
}

void add_sizes(py::class_<Solid>& type) {
    type.def_property_readonly("volume", unlocked(&Solid::volume), "Volume in mm^3.")
        .def_property_readonly("surface_area", unlocked(&Solid::surface_area),
                               "Area of the surface in mm^2.")
        .def_property_readonly(
            "bounds", [](const Solid& solid) { return to_array(unlocked(&Solid::bounds)(solid)); },
            "Tight box in model coordinates, mm, array of shape (2, 3): lowest corner, highest "
            "corner.")
        .def_property_readonly("face_count", unlocked(&Solid::face_count), "Number of faces.")
        .def_property_readonly("edge_count", unlocked(&Solid::edge_count), "Number of edges.");
}

void bind_solid(py::module_& module) {
    py::class_<Solid> type(module, "Solid",
                           R"(One placed solid of a model, in model coordinates and mm. Immutable.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> gable = station[20]
>>> gable.path, round(gable.volume, 1), gable.bounds.round(3).tolist()
(('bird-feeding station', 'house', 'gable 1'), 75605.1, [[-63.0, -70.0, 156.0], [-57.0, 70.0, 294.629]])
)");
    add_identity(type);
    add_sizes(type);
    type.def("__repr__", [](const Solid& solid) {
        return std::string(
            py::str("Solid(name={!r}, faces={}, shape_index={})")
                .format(to_str(solid.name()), solid.face_count(), solid.shape_index()));
    });
}

void bind_healed(py::module_& module) {
    py::class_<Healed>(
        module, "Healed",
        R"(What was repaired while a STEP file was read: of its shapes before they are placed, parts that are no
solids included.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> station.healed.shapes, station.healed.shapes_in_full
(17, 0)
)")
        .def_readonly("shapes", &Healed::shapes, "Number of shapes.")
        .def_readonly("shapes_in_full", &Healed::shapes_in_full,
                      "Number of shapes that were healed in full, with all their faces.")
        .def_readonly("faces", &Healed::faces, "Number of faces of all shapes.")
        .def_readonly("faces_alone", &Healed::faces_alone,
                      "Number of faces that were healed each by itself, of the other shapes.")
        .def("__repr__", [](const Healed& healed) {
            return std::string(
                py::str("Healed(shapes={}, shapes_in_full={}, faces={}, faces_alone={})")
                    .format(healed.shapes, healed.shapes_in_full, healed.faces,
                            healed.faces_alone));
        });
}

void bind_model_class(py::module_& module) {
    py::class_<Model>(module, "Model",
                      R"(A loaded model: its solids in the order of the file's tree, in mm.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> len(station), station.unit, station.shape_count
(28, 'mm', 17)
>>> station[26].name, station[0] == station["base plate"]
('gutter', True)
)")
        .def_property_readonly("solids", &Model::solids, "The solids.")
        .def_property_readonly(
            "unit", [](const Model& model) { return to_str(model.unit()); },
            "The file's own length unit, e.g. 'inch'; several joined by ', ' if mixed; 'mm "
            "(assumed)' "
            "for BREP, which carries none.")
        .def_property_readonly(
            "source", [](const Model& model) { return to_str(model.source()); },
            "The path, or 'memory'.")
        .def_property_readonly(
            "notes", [](const Model& model) { return to_strs(model.notes()); },
            "What a person should know: open shells left out, units overridden, ...")
        .def_property_readonly("shape_count", &Model::shape_count, "Number of distinct shapes.")
        .def_property_readonly("healed", &Model::healed,
                               "What was repaired while the file was read; all nought for BREP.")
        .def("__repr__", [](const Model& model) {
            return std::string(
                py::str("Model(source={!r}, solids={}, unit={!r})")
                    .format(to_str(model.source()), model.solids().size(), to_str(model.unit())));
        });
}

void bind_reading(py::module_& module) {
    module.def(
        "load",
        [](const std::filesystem::path& path, const std::optional<std::string>& unit, double scale,
           Heal heal) {
            return load(path, {unit.value_or(std::string()), scale, heal});
        },
        py::arg("path"), py::kw_only(), py::arg("unit") = py::none(), py::arg("scale") = 1.0,
        py::arg("heal") = Heal::needed, without_gil(),
        R"(Read a STEP or BREP file; lengths come out in mm whatever the file's unit.

STEP (AP203, AP214, AP242), also gzip-compressed, and BREP, text or binary: the content decides, not
the suffix. Other Python threads run meanwhile.

Parameters
----------
path : path-like
unit : {'mm', 'cm', 'm', 'um', 'inch', 'foot'}, optional
    Read all lengths as this unit instead of the file's own.
scale : float, optional
    Multiply all lengths by this, no unit (a model drawn at 1:10 has scale 10).
heal : {'needed', 'always'}, optional
    Whether the kernel repairs what does not pass checks, or everything; the same solids in little more
    than half of the time, or as the kernel's own readers do. STEP alone; BREP is taken as it is.

Returns
-------
Model

Raises
------
LoadError
    With the path and what to do, if the file can't be read or holds no solid.
GeometryError
    For an unknown unit or a scale that is not finite and positive.

Examples
--------
>>> import pathlib, planform, tempfile
>>> path = pathlib.Path(tempfile.mkdtemp()) / "station.step"
>>> _ = planform.write_demo_assembly(path)
>>> planform.load(path).unit
'mm'
)");
    module.def(
        "from_brep",
        [](const py::bytes& data, const std::optional<std::string>& unit, double scale) {
            const std::string_view view = data;
            const py::gil_scoped_release released;
            return from_brep(view, {unit.value_or(std::string()), scale, Heal::needed});
        },
        py::arg("data"), py::kw_only(), py::arg("unit") = py::none(), py::arg("scale") = 1.0,
        R"(Read the bytes of a BREP file, text or binary.

Parameters
----------
data : bytes
unit : {'mm', 'cm', 'm', 'um', 'inch', 'foot'}, optional
    Unit of the data's lengths; mm without it.
scale : float, optional
    Multiply all lengths by this, no unit.

Returns
-------
Model

Raises
------
LoadError
    If the data is not BREP, damaged, or holds no solid.
GeometryError
    For an unknown unit or a scale that is not finite and positive.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> tray = station["tray floor"]
>>> again = planform.from_brep(tray.to_brep())
>>> round(again[0].volume / tray.volume, 9)
1.0
)");
    module.def("unit_names", &unit_names, R"(The valid words for the `unit` of `load`.

Examples
--------
>>> import planform
>>> planform.unit_names()
['mm', 'cm', 'm', 'um', 'inch', 'foot']
)");
}

void bind_datums(py::module_& module) {
    module.def("face_datum", &face_datum, py::arg("solid"), py::arg("face"), without_gil(),
               R"(The plane of a planar face, normal pointing out of the solid.

Parameters
----------
solid : Solid
face : int
    Number of the face, from 1.

Returns
-------
Datum
    In model coordinates, mm.

Raises
------
GeometryError
    If there is no such face or it is not planar.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> planform.face_datum(station["base plate"], 1).normal.round(6).tolist()
[0.0, -1.0, 0.0]
)");
}

void bind_demo(py::module_& module) {
    module.def(
        "write_demo_assembly",
        [](const std::filesystem::path& path) {
            write_demo_assembly(path);
            return path;
        },
        py::arg("path"), without_gil(),
        R"(Write the demo, a bird-feeding station of about ten distinct plates, as a STEP assembly in mm.

Parameters
----------
path : path-like

Returns
-------
pathlib.Path
    The path written.

Raises
------
WriteError
    If the file can't be written.

Examples
--------
>>> import pathlib, planform, tempfile
>>> planform.write_demo_assembly(pathlib.Path(tempfile.mkdtemp()) / "station.step").name
'station.step'
)");
}

}  // namespace

void bind_model(py::module_& module) {
    bind_solid(module);
    bind_healed(module);
    bind_model_class(module);
    bind_reading(module);
    bind_datums(module);
    bind_demo(module);
}

}  // namespace planform::python
