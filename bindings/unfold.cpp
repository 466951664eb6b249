#include "binding.hpp"

namespace planform::python {

namespace {

constexpr const char* rule_doc =
    R"(By which rule the length of a bend in the blank is found.

Parameters
----------
rule : {'din-6935', 'k-factor', 'table'}, optional
    DIN 6935: K = k / 2 with k = 0.65 + 0.5 lg(inside radius / thickness), at most 1; below 15 degrees the
    blank is as long as the outer lengths together (from memory). A K factor: the depth of the layer that keeps
    its length, from the inside, as a share of the thickness. A table of what was measured.
k_factor : float, optional
    0 to 1, for the rule 'k-factor'.
table : iterable of BendTableRow, optional
    For the rule 'table'. Between rows it is interpolated linearly in the angle and in the inside radius.
sharp_radius : float, optional
    Inside radius of bends at corners that are drawn sharp inside and not rounded by the thickness outside, mm;
    without it the thickness (common practice, no source), or 0 where that has no room.

Raises
------
GeometryError
    For an unknown rule.

Examples
--------
>>> import math, planform
>>> rule = planform.BendRule("k-factor", k_factor=0.4)
>>> round(rule.allowance(thickness=2, inside_radius=3, angle=math.pi / 2), 6)
5.969026
)";

constexpr const char* unfold_doc =
    R"(The blank of a bent sheet, by a rule that is given as a BendRule.

See `planform.unfold`, which takes the rule in words.

Parameters
----------
solid : Solid
rule : BendRule, optional
tolerance : float, optional
    Bound in mm on the distance between the true outline and the result.
mark_limits : bool, optional
    Also marks where bends begin and end.

Returns
-------
Blank

Raises
------
UnfoldError
    If the solid is no bent sheet that a flat one bends to.
GeometryError
    For options out of range and bends that the table doesn't tell.
)";

py::typing::Tuple<Line, py::ellipsis> to_tuple(const std::vector<Line>& lines) {
    py::typing::Tuple<Line, py::ellipsis> result(lines.size());
    for (std::size_t i = 0; i < lines.size(); ++i) result[i] = py::cast(lines[i]);
    return result;
}

void bind_rule(py::module_& module) {
    py::class_<BendTableRow>(module, "BendTableRow", R"(What was measured of a bend.

Parameters
----------
thickness : float
    mm.
inside_radius : float
    mm.
angle : float
    By which the sheet is bent, radians; 0 is flat.
allowance : float, optional
    Length of the blank between the lines where the bend begins and ends, mm.
deduction : float, optional
    What the blank is shorter than the two outer lengths together, mm. Give one of the two.

Examples
--------
>>> import math, planform
>>> row = planform.BendTableRow(thickness=1.0, inside_radius=1.0, angle=math.pi / 2, allowance=2.1)
>>> rule = planform.BendRule("table", table=[row])
>>> rule.allowance(1.0, 1.0, math.pi / 2)
2.1
)")
        .def(py::init([](double thickness, double inside_radius, double angle,
                         const std::optional<double>& allowance,
                         const std::optional<double>& deduction) {
                 if (allowance) finite(*allowance, "allowance");
                 if (deduction) finite(*deduction, "deduction");
                 return BendTableRow{finite(thickness, "thickness"),
                                     finite(inside_radius, "inside_radius"), finite(angle, "angle"),
                                     allowance, deduction};
             }),
             py::arg("thickness"), py::arg("inside_radius"), py::arg("angle"), py::kw_only(),
             py::arg("allowance") = py::none(), py::arg("deduction") = py::none())
        .def_readonly("thickness", &BendTableRow::thickness, "Of the sheet, mm.")
        .def_readonly("inside_radius", &BendTableRow::inside_radius, "Of the bend, mm.")
        .def_readonly("angle", &BendTableRow::angle, "Radians; 0 is flat.")
        .def_readonly("allowance", &BendTableRow::allowance, "mm, or None.")
        .def_readonly("deduction", &BendTableRow::deduction, "mm, or None.")
        .def("__repr__", [](const BendTableRow& row) {
            return std::string(
                py::str("BendTableRow({:.6g}, {:.6g}, {:.6g}, allowance={}, deduction={})")
                    .format(row.thickness, row.inside_radius, row.angle, row.allowance,
                            row.deduction));
        });
    py::class_<BendRule>(module, "BendRule", rule_doc)
        .def(
            py::init([](BendRuleKind kind, double k_factor, std::vector<BendTableRow> table,
                        const std::optional<double>& sharp_radius) {
                if (sharp_radius) finite(*sharp_radius, "sharp_radius");
                return BendRule{kind, finite(k_factor, "k_factor"), std::move(table), sharp_radius};
            }),
            py::arg("rule") = BendRuleKind::din_6935, py::kw_only(), py::arg("k_factor") = 0.5,
            py::arg("table") = std::vector<BendTableRow>{}, py::arg("sharp_radius") = py::none())
        .def_readonly("rule", &BendRule::kind, "'din-6935', 'k-factor' or 'table'.")
        .def_readonly("k_factor", &BendRule::k_factor, "For the rule 'k-factor'.")
        .def_property_readonly(
            "table", [](const BendRule& rule) { return rule.table; }, "For the rule 'table'.")
        .def_readonly("sharp_radius", &BendRule::sharp_radius,
                      "Of corners that are drawn sharp, mm; None: the thickness.")
        .def(
            "allowance",
            [](const BendRule& rule, double thickness, double inside_radius, double angle) {
                return bend_allowance(rule, thickness, inside_radius, angle);
            },
            py::arg("thickness"), py::arg("inside_radius"), py::arg("angle"),
            R"(Length of the blank between the lines where a bend begins and ends, mm.

Parameters
----------
thickness, inside_radius : float
    mm.
angle : float
    By which the sheet is bent, radians; 0 is flat.

Raises
------
GeometryError
    For numbers that make no bend, and for what the table doesn't tell.
)")
        .def("__repr__", [](const BendRule& rule) {
            return std::string(py::str("BendRule({!r}, k_factor={:.6g}, table={} rows)")
                                   .format(rule.kind, rule.k_factor, rule.table.size()));
        });
}

void bind_bend(py::module_& module) {
    py::class_<Bend>(module, "Bend", R"(A bend of a blank. Lengths are mm, angles radians.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> bend = planform.unfold(station[26], k_factor=0.44).bends[0]
>>> bend.direction, bend.inside_radius, round(bend.angle, 6), round(bend.allowance, 3)
('up', 2.0, 1.570796, 3.833)
)")
        .def_readonly("kind", &Bend::kind,
                      "'bend' between walls, 'conical', or 'roll': no wall at one side or at both.")
        .def_readonly("number", &Bend::number, "From 1, in the order of the blank.")
        .def_readonly("angle", &Bend::angle, "By which the sheet is bent, radians; 0 is flat.")
        .def_readonly("inside_radius", &Bend::inside_radius,
                      "mm; of a conical bend in the middle of its line.")
        .def_readonly("half_angle", &Bend::half_angle, "Of a conical bend's cone, radians, else 0.")
        .def_readonly("up", &Bend::up, "True if the walls rise towards the reader.")
        .def_property_readonly(
            "direction", [](const Bend& bend) { return bend.up ? "up" : "down"; },
            "'up' or 'down' as seen on the drawing.")
        .def_readonly("allowance", &Bend::allowance, "mm of blank across the line.")
        .def_readonly("deduction", &Bend::deduction,
                      "mm by which the blank is shorter than the two outer lengths together.")
        .def_readonly("k_factor", &Bend::k_factor, "Where the rule put the neutral fibre.")
        .def_property_readonly(
            "lines", [](const Bend& bend) { return to_tuple(bend.lines); },
            "The line in the middle of the bend: its pieces in the material, in order; none of a "
            "roll.")
        .def_property_readonly(
            "limits", [](const Bend& bend) { return to_tuple(bend.limits); },
            "Where the bend begins and ends: pieces of these lines in the material.")
        .def_readonly(
            "faces", &Bend::faces,
            "1-based numbers in the solid, ascending; none of a bend at a corner that is drawn "
            "sharp.")
        .def_property_readonly("length", &Bend::length, "Of the pieces of its line, mm.")
        .def("__repr__", [](const Bend& bend) {
            return std::string(py::str("Bend({}, {!r}, {:.6g} degrees {}, inside_radius={:.6g})")
                                   .format(bend.number, bend.kind, bend.angle * 180.0 / pi,
                                           bend.up ? "up" : "down", bend.inside_radius));
        });
    py::class_<Blank>(module, "Blank", R"(The flat outline of a bent sheet with its bends.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> blank = planform.unfold(station[26], k_factor=0.44)
>>> blank.thickness, len(blank.bends), blank.outline.proof.largest_deviation < 1e-6
(1.0, 3, True)
)")
        .def_readonly("thickness", &Blank::thickness, "Of the sheet, mm.")
        .def_readonly("outline", &Blank::outline,
                      "Profile set on the datum of the wall that stays where it is, with bend "
                      "lines as marks.")
        .def_readonly("bends", &Blank::bends, "From left to right, then from below.")
        .def_readonly("volume", &Blank::volume, "Of the solid, mm^3.")
        .def_property_readonly(
            "notes", [](const Blank& blank) { return to_strs(blank.notes); },
            "What a person should know, one sentence each.")
        .def("__repr__", [](const Blank& blank) {
            const Vector2 sizes = blank.outline.bounds().sizes();
            return std::string(
                py::str("Blank({:.6g} x {:.6g} mm, thickness={:.6g}, bends={})")
                    .format(sizes.x(), sizes.y(), blank.thickness, blank.bends.size()));
        });
    py::class_<UnfoldRefusal>(module, "UnfoldRefusal", R"(Why a solid is not unfolded, and where.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> try:
...     planform.unfold(station[20])
... except planform.UnfoldError as error:
...     print(error.refusal.reason)
no bend
)")
        .def_property_readonly(
            "reason",
            [](const UnfoldRefusal& refusal) { return std::string(word_for(refusal.reason)); },
            "In words: 'no bend', 'no sheet', 'not of one thickness', 'sharp corner', 'closed ring "
            "of walls', 'not developable', 'lip or louvre', 'blank overlaps itself' or 'not "
            "measured'.")
        .def_property_readonly(
            "text", [](const UnfoldRefusal& refusal) { return to_str(refusal.text); },
            "The reason with its figures and what to do.")
        .def_readonly("faces", &UnfoldRefusal::faces, "1-based numbers in the solid.")
        .def_property_readonly(
            "place", [](const UnfoldRefusal& refusal) { return refusal.place; },
            "Model coordinates, mm; None if there is none.")
        .def_readonly("outline", &UnfoldRefusal::outline,
                      "Of a blank that overlaps itself, not proven, for pictures; else None.")
        .def_readonly("overlap", &UnfoldRefusal::overlap,
                      "Where a blank lies on itself, for pictures; else None.")
        .def("__repr__", [](const UnfoldRefusal& refusal) {
            return std::string(
                py::str("UnfoldRefusal({!r})").format(std::string(word_for(refusal.reason))));
        });
}

}  // namespace

void bind_unfold(py::module_& module) {
    bind_rule(module);
    bind_bend(module);
    module.def(
        "_blank_by_rule",
        [](const Solid& solid, const BendRule& rule, double tolerance, bool mark_limits) {
            return unfold(solid, {tolerance, rule, mark_limits});
        },
        py::arg("solid"), py::arg_v("rule", BendRule{}, "BendRule()"), py::kw_only(),
        py::arg("tolerance") = 0.01, py::arg("mark_limits") = false, without_gil(), unfold_doc);
    module.def(
        "_bends_on_datum",
        [](const std::vector<Bend>& bends, const Datum& from, const Datum& to) {
            return bends_on_datum(bends, from, to);
        },
        py::arg("bends"), py::arg("from_datum"), py::arg("to_datum"),
        R"(Bends of a blank that was turned or moved in its plane, on the datum that it is on now.

Raises
------
GeometryError
    For a datum in another plane, or seen from the other side.
)");
    module.def(
        "bend_findings",
        [](const ProfileSet& outline, const std::vector<Bend>& bends, double thickness,
           const RuleSet& rules, std::optional<double> least_radius) {
            return bend_findings(outline, bends, thickness, rules, least_radius);
        },
        py::arg("outline"), py::arg("bends"), py::arg("thickness"), py::kw_only(),
        py::arg_v("rules", RuleSet(), "RuleSet()"), py::arg("least_radius") = py::none(),
        without_gil(),
        R"(What the rules of inspection say of the bends of a blank.

Holes and slots too near to a bend, walls too narrow beside one, bends that end within the sheet without a
relief, inside radii below the material's least. Whether the tool of a press reaches every bend is not looked at.

Parameters
----------
outline : ProfileSet
    The blank.
bends : list of Bend
thickness : float
    mm.
rules : RuleSet, optional
    Of these 'bend_distance', 'flange', 'bend_relief' and 'bend_radius' count.
least_radius : float, optional
    The least inside radius that the material takes, mm; without it that rule is left out.

Returns
-------
list of Finding

Raises
------
GeometryError
    For a thickness or a radius that makes no sense.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> blank = planform.unfold(station[26])
>>> found = planform.bend_findings(blank.outline, blank.bends, blank.thickness, least_radius=5.0)
>>> found[0].rule, found[0].measured, found[0].limit
('bend_radius', 2.0, 5.0)
)");
    module.def(
        "bend_deduction",
        [](double allowance, double thickness, double inside_radius, double angle) {
            return bend_deduction(finite(allowance, "allowance"), finite(thickness, "thickness"),
                                  finite(inside_radius, "inside_radius"), finite(angle, "angle"));
        },
        py::arg("allowance"), py::arg("thickness"), py::arg("inside_radius"), py::arg("angle"),
        R"(By how much a blank is shorter than the two outer lengths together, mm.

Outer lengths end where the outsides of the walls would meet up to 90 degrees, above at the tangents across
the outermost point (as DIN 6935 measures; from memory).

Parameters
----------
allowance, thickness, inside_radius : float
    mm.
angle : float
    By which the sheet is bent, radians; 0 is flat.

Examples
--------
>>> import math, planform
>>> rule = planform.BendRule()
>>> round(planform.bend_deduction(rule.allowance(1, 1, math.pi / 2), 1, 1, math.pi / 2), 4)
1.9187
)");
}

}  // namespace planform::python
