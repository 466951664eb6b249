#include "planform/proof.hpp"

#include "binding.hpp"

namespace planform::python {

void bind_proof(py::module_& module) {
    py::class_<ProvenLaw>(module, "ProvenLaw",
                          R"(A law that a flattening was held against before it was handed out.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> law = planform.silhouette(station[20], "auto").proof.laws[0]
>>> law.name, law.checks > 0, law.largest_deviation < 0.01
('areas of faces', True, True)
)")
        .def_property_readonly(
            "name", [](const ProvenLaw& law) { return to_str(law.name); }, "Words for people.")
        .def_readonly("checks", &ProvenLaw::checks, "How many times it was asked.")
        .def_readonly("largest_deviation", &ProvenLaw::largest_deviation,
                      "In mm; within the tolerance of the outline.")
        .def("__repr__", [](const ProvenLaw& law) {
            return std::string(py::str("ProvenLaw(name={!r}, checks={}, largest_deviation={:.3g})")
                                   .format(to_str(law.name), law.checks, law.largest_deviation));
        });
    py::class_<Proof>(module, "Proof",
                      R"(The laws that a flattening was held against, each once.

An outline that breaks one is not handed out: the call that makes it raises GeometryError. Sets that come from
elsewhere (a file, a boolean, a caller) have an empty proof.

Examples
--------
>>> import pathlib, planform, tempfile
>>> path = planform.write_demo_assembly(pathlib.Path(tempfile.mkdtemp()) / "station.step")
>>> solid = planform.load(path).solids[0]
>>> outline = planform.silhouette(solid, planform.auto_datum(solid))
>>> [law.name for law in outline.proof.laws][:3]
['areas of faces', 'sum of areas', 'winding of curves']
>>> outline.proof.largest_deviation < outline.tolerance
True
)")
        .def_property_readonly("laws", &Proof::laws, "The laws, a list of ProvenLaw.")
        .def_property_readonly("largest_deviation", &Proof::largest_deviation,
                               "Of all laws, in mm; 0 for an empty proof.")
        .def("__len__", [](const Proof& proof) { return proof.laws().size(); })
        .def("__repr__", [](const Proof& proof) {
            return std::string(py::str("Proof(laws={!r})").format(proof.laws()));
        });
}

}  // namespace planform::python
