#include "binding.hpp"

namespace planform::python {

namespace {

constexpr const char* plates_doc =
    R"(Which solids are flat parts, which of them are the same, and how many of each.

A plate has two parallel flat faces that look away from each other and carry the thickness, is thin against
its outline, nothing stands far out of the sheet, outline times thickness explains most of its volume, and
its two faces and straight walls make most of its surface. What is none is listed with its reason and figures:
turned part, block, bent sheet, wedge, draft, stands out of the sheet, hollowed, milled all over, no straight
walls, no flat faces, not measured. Each loose solid is a piece, also where a part has several; but a body that lies loose in a hole of
another body of its part, in the same sheet, is an island of that plate's drawing. Instances of one shape are
looked at once. Solids are the same if thickness, outline and, where features remain that a
straight cut can't make, sections at several heights agree under one motion in space. Mirror images are the
same where turning the piece over makes one of the other, always so for straight plates; with `one_sided` they
never are. Other Python threads run meanwhile.

A bent sheet is a plate, too: its outline is its blank, and its bends come with it (see `unfold`).

Parameters
----------
solids : Solid, Model or iterable of Solid
tolerance : float, optional
    Bound in mm on the distance between the true outline and the result.
same_within : float, optional
    Solids are the same if no distance between two places of them differs by more, mm.
greatest_thickness : float, optional
    Greatest thickness of a plate as a share of the narrowest width of its outline; above, it is a block.
greatest_rise : float, optional
    How far anything may stand out of the sheet, as a share of the thickness.
least_volume_share : float, optional
    Least share, above 0 and at most 1, to which outline times thickness and volume agree.
least_surface_share : float, optional
    Least share of the surface, 0 to 1, that lies in the two flat faces and in straight walls.
least_wall_share : float, optional
    Least share, 0 to 1, of the walls that a cut along the outline makes which the solid has.
at : {'shadow', 'top', 'bottom', 'through'}, optional
    Which outline of a plate that has more than straight walls; see `silhouette`.
one_sided : bool, optional
    The stock has a good side (brushed, veneered, printed): mirror images are plates of their own.
marks : {'up', 'down', 'both', 'none'}, optional
    On which sides recesses and raised areas become marks of the outline, with their depth; see
    `feature_marks`. None with another outline than the shadow.
bend_rule : BendRule, optional
    By which rule the blanks of bent sheets are made; DIN 6935 by default.

Returns
-------
PlateList

Raises
------
GeometryError
    For an option out of range. What fails on one solid is listed in `others`.

Examples
--------
>>> import pathlib, planform, tempfile
>>> path = planform.write_demo_assembly(pathlib.Path(tempfile.mkdtemp()) / "station.step")
>>> found = planform.plates(planform.load(path))
>>> [(p.name, p.quantity, p.thickness) for p in found.plates if p.name == "post"]
[('post', 4, 6.0)]
)";

constexpr const char* congruence_doc =
    R"(A motion that carries one outline onto another, or None.

Profiles, holes and marks are matched with their like, whatever their order, start points, splitting and kinds
of curve; names don't count. Other Python threads run meanwhile.

Parameters
----------
first, second : ProfileSet
tolerance : float, optional
    In mm: outlines are congruent if no distance between two places differs by more.
mirrored : {'never', 'allowed', 'only'}, optional
    Whether the outline may be turned over: if no other motion is found, or always.

Returns
-------
Congruence or None

Raises
------
GeometryError
    For an unknown word or a tolerance that is not a positive finite number.

Examples
--------
>>> import planform
>>> disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), 5)]))])
>>> found = planform.find_congruence(disc, disc.transformed([[1, 0, 7], [0, 1, 2]]))
>>> found.matrix.round(9).tolist(), found.mirrored
([[1.0, 0.0, 7.0], [0.0, 1.0, 2.0]], False)
)";

void bind_congruence(py::module_& module) {
    py::class_<Congruence>(module, "Congruence", R"(How one outline lies on another.

Examples
--------
>>> import planform
>>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
>>> sides = zip(corners, corners[1:] + corners[:1])
>>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
>>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
>>> found = planform.find_congruence(roof, roof.mirrored("x").rotated(0.3))
>>> found.mirrored, found.deviation < 1e-9
(False, True)
)")
        .def_property_readonly(
            "matrix",
            [](const Congruence& found) {
                return Eigen::Matrix<double, 2, 3, Eigen::RowMajor>(found.motion.affine());
            },
            "Shape (2, 3): turns (and mirrors) by its first two columns, no unit, then shifts by "
            "the last, mm.")
        .def_readonly("mirrored", &Congruence::mirrored, "True if it turns the outline over.")
        .def_readonly("deviation", &Congruence::deviation,
                      "Greatest distance of one outline from the other then, mm.")
        .def("__repr__", [](const Congruence& found) {
            return std::string(py::str("Congruence(mirrored={}, deviation={:.3g})")
                                   .format(found.mirrored, found.deviation));
        });
    module.def(
        "find_congruence",
        [](const ProfileSet& first, const ProfileSet& second, double tolerance, Turning turning) {
            return find_congruence(first, second, {tolerance, turning});
        },
        py::arg("first"), py::arg("second"), py::arg("tolerance") = 0.01,
        py::arg("mirrored") = Turning::never, without_gil(), congruence_doc);
}

void bind_plate_class(py::module_& module) {
    py::class_<PlateInstance>(module, "PlateInstance", R"(One piece that is cut from a plate.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> plate = planform.plates(station)[-2]
>>> [(instance.solid, instance.turned_over) for instance in plate.instances]
[(1, False), (2, False), (3, False), (4, False)]
)")
        .def_readonly("solid", &PlateInstance::solid, "Index in the solids of the call.")
        .def_readonly("islands", &PlateInstance::islands,
                      "Indices of the bodies of the same part that lie loose in its holes.")
        .def_property_readonly(
            "name", [](const PlateInstance& instance) { return to_str(instance.name); },
            "Of the part, if the piece is all of it, else of the solid.")
        .def_readonly("turned_over", &PlateInstance::turned_over,
                      "True if the solid is the mirror image of the outline.")
        .def("__repr__", [](const PlateInstance& instance) {
            return std::string(py::str("PlateInstance(solid={}, turned_over={})")
                                   .format(instance.solid, instance.turned_over));
        });
    py::class_<Plate>(module, "Plate",
                      R"(A distinct flat part and all solids that are the same. Lengths are mm.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> plate = planform.plates(station)[-2]
>>> plate.name, plate.thickness, plate.quantity, plate.side
('post', 6.0, 4, SideUp(features_up=False, features_down=False))
)")
        .def_property_readonly(
            "name", [](const Plate& plate) { return to_str(plate.name); },
            "That of its first piece.")
        .def_property_readonly(
            "names", [](const Plate& plate) { return to_strs(plate.names); },
            "The distinct names of its pieces.")
        .def_readonly("thickness", &Plate::thickness, "Between its two flat faces, mm.")
        .def_readonly("datum", &Plate::datum,
                      "The plate lies on it, with the side up that `side_up` tells.")
        .def_readonly("side", &Plate::side, "Why this side lies up.")
        .def_readonly("outline", &Plate::outline, "Its profile set, mm.")
        .def_readonly("volume_share", &Plate::volume_share,
                      "What outline times thickness explains of the volume: the smaller over the "
                      "larger, no unit; 1 for a straight plate.")
        .def_readonly("surface_share", &Plate::surface_share,
                      "Share of the solid's surface that lies in the two flat faces or in straight "
                      "walls, no unit; 1 for a straight plate.")
        .def_readonly("wall_share", &Plate::wall_share,
                      "Area of the straight walls over that which a cut along the outline makes, "
                      "its length times thickness; no unit, 1 for a straight plate.")
        .def_readonly("volume", &Plate::volume, "mm^3, of the solid with its islands.")
        .def_readonly("cut", &Plate::cut, "What a straight cut makes of it and what it can't.")
        .def_readonly("bends", &Plate::bends,
                      "Of a bent sheet, whose outline is its blank; none of a flat plate.")
        .def_readonly("instances", &Plate::instances,
                      "All its pieces, by the index of their solids.")
        .def_property_readonly("quantity", &Plate::quantity, "How many.")
        .def_property_readonly(
            "notes", [](const Plate& plate) { return to_strs(plate.notes); },
            "What a person should know, one sentence each.")
        .def("__repr__", [](const Plate& plate) {
            return std::string(py::str("Plate({!r}, thickness={:.6g}, quantity={})")
                                   .format(to_str(plate.name), plate.thickness, plate.quantity()));
        });
}

void bind_list(py::module_& module) {
    py::class_<OtherPart>(module, "OtherPart", R"(A distinct shape that is no plate.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> other = planform.plates(station, greatest_thickness=0.1).others[0]
>>> other.name, other.reason
('post', 'block')
)")
        .def_property_readonly(
            "name", [](const OtherPart& part) { return to_str(part.name); },
            "That of its first solid.")
        .def_readonly("solids", &OtherPart::solids, "Indices in the solids of the call.")
        .def_readonly("reason", &OtherPart::reason, "Why it is none.")
        .def_property_readonly(
            "word", [](const OtherPart& part) { return std::string(word_for(part.reason)); },
            "The reason in words, e.g. 'bent sheet'.")
        .def_property_readonly(
            "text", [](const OtherPart& part) { return to_str(part.text); },
            "The reason with its figures.")
        .def(
            "finding",
            [](const OtherPart& part, const RuleSet& rules) { return finding_of(part, rules); },
            py::arg("rules"), R"(What a person should know of it, for `inspect`.

Parameters
----------
rules : RuleSet

Returns
-------
Finding or None
    Of the rule 'not_flat', with its severity. None if the rule is off.
)")
        .def("__repr__", [](const OtherPart& part) {
            return std::string(py::str("OtherPart({!r}, {!r}, quantity={})")
                                   .format(to_str(part.name), part.reason, part.solids.size()));
        });
    py::class_<PlateList>(module, "PlateList", R"(The plates among some solids, and what is none.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> plates = planform.plates(station)
>>> sum(plate.quantity for plate in plates), len(plates.others)
(23, 0)
)")
        .def_readonly("plates", &PlateList::plates, "By thickness, name, falling area.")
        .def_readonly("others", &PlateList::others, "What is no plate, by first solid.")
        .def_readonly("flattened", &PlateList::flattened, "How many outlines were made.")
        .def("__repr__", [](const PlateList& list) {
            return std::string(py::str("PlateList(plates={}, others={})")
                                   .format(list.plates.size(), list.others.size()));
        });
    module.def(
        "plates",
        [](const SolidList& solids, double tolerance, double same_within, double greatest_thickness,
           double greatest_rise, double least_volume_share, double least_surface_share,
           double least_wall_share, At at, bool one_sided, MarkedSides marks,
           const BendRule& bend_rule) {
            return plates(solids.solids,
                          PlateOptions{tolerance, same_within, greatest_thickness, greatest_rise,
                                       least_volume_share, least_surface_share, least_wall_share,
                                       at, one_sided, marks, bend_rule});
        },
        py::arg("solids"), py::kw_only(), py::arg("tolerance") = 0.01,
        py::arg("same_within") = 0.01, py::arg("greatest_thickness") = 0.5,
        py::arg("greatest_rise") = 0.25, py::arg("least_volume_share") = 0.6,
        py::arg("least_surface_share") = 0.5, py::arg("least_wall_share") = 0.5,
        py::arg("at") = At::shadow, py::arg("one_sided") = false,
        py::arg("marks") = MarkedSides::up, py::arg_v("bend_rule", BendRule{}, "BendRule()"),
        without_gil(), plates_doc);
}

}  // namespace

void bind_plate(py::module_& module) {
    bind_congruence(module);
    bind_plate_class(module);
    bind_list(module);
}

}  // namespace planform::python
