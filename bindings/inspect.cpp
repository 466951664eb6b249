#include <optional>

#include "binding.hpp"

namespace planform::python {

namespace {

std::string repr(const Finding& finding) {
    std::string text = "Finding(" + std::string(word_for(finding.severity)) + ", " +
                       std::string(word_for(finding.rule)) + " at (" +
                       std::to_string(finding.place.x()) + ", " +
                       std::to_string(finding.place.y()) + ")";
    if (finding.measured) text += ", " + std::to_string(*finding.measured) + " " + finding.unit;
    return text + ")";
}

void bind_rules(py::module_& module) {
    py::class_<Rule>(module, "Rule", R"(One rule: its limit, and how much a finding of it weighs.

`limit` is counted in `unit`: "thicknesses", "mm", "degrees", "points" or "" for a rule without one.

Examples
--------
>>> import planform
>>> rule = planform.RuleSet()["inner_width"]
>>> rule.enabled, rule.severity, rule.limit, rule.unit
(True, 'error', 0.5, 'thicknesses')
)")
        .def_readonly("name", &Rule::kind, "The rule's word in rule files and tables.")
        .def_readonly("enabled", &Rule::enabled, "False if it is not looked for.")
        .def_readonly("severity", &Rule::severity, "How much a finding of it weighs.")
        .def_readonly("limit", &Rule::limit, "What counts as too much or too little, in `unit`.")
        .def_readonly("unit", &Rule::unit, "In what the limit is given.")
        .def_readonly("description", &Rule::description, "What is looked for, one sentence.")
        .def_readonly("source", &Rule::source, "A standard, or \"common practice, no source\".")
        .def("__repr__", [](const Rule& rule) {
            return "Rule(" + std::string(word_for(rule.kind)) + ", " +
                   (rule.enabled ? std::string(word_for(rule.severity)) : std::string("off")) +
                   ", limit " + std::to_string(rule.limit) + " " +
                   std::string(word_for(rule.unit)) + ")";
        });

    py::class_<RuleSet>(module, "RuleSet",
                        R"(The rules of an inspection, one of each name; immutable.

Examples
--------
>>> import planform
>>> rules = planform.RuleSet().with_limit("web", 2.0, "mm").with_severity("web", "warning")
>>> rules["web"].limit, rules["web"].unit, rules["web"].severity
(2.0, 'mm', 'warning')
)")
        .def(py::init<>(), "The documented default set.")
        .def(
            "__getitem__", [](const RuleSet& set, RuleKind name) { return set.rule(name); },
            py::arg("name"))
        .def(
            "__iter__",
            [](const RuleSet& set) {
                return py::make_iterator(set.rules().begin(), set.rules().end());
            },
            py::keep_alive<0, 1>())
        .def("__len__", [](const RuleSet& set) { return set.rules().size(); })
        .def(
            "with_limit",
            [](const RuleSet& set, RuleKind name, double limit, std::optional<LimitUnit> unit) {
                return set.with_limit(name, limit, unit.value_or(set.rule(name).unit));
            },
            py::arg("name"), py::arg("limit"), py::arg("unit") = py::none(),
            R"(The set with one limit changed.

Parameters
----------
name : str
limit : float
    In `unit`, not negative.
unit : str, optional
    The rule's own by default. Rules in "mm" or "thicknesses" take both.

Raises
------
GeometryError
    For an unknown name (the message lists the valid ones), a limit or a unit that makes no sense.
)")
        .def("with_severity", &RuleSet::with_severity, py::arg("name"), py::arg("severity"),
             "The set with one rule's findings weighing more or less.")
        .def("with_enabled", &RuleSet::with_enabled, py::arg("name"), py::arg("enabled"),
             "The set with one rule on or off.")
        .def("__repr__", [](const RuleSet& set) {
            return "RuleSet(" + std::to_string(set.rules().size()) + " rules)";
        });
}

void bind_finding(py::module_& module) {
    py::class_<Finding>(module, "Finding",
                        R"(One result of an inspection: what, where, measured, limit.

`place` is a point on the drawing, in mm. `points` are the places that a width was measured between, or
all places where there are several. `measured` and `limit` are in `unit` ("mm", "degrees", "points", "")
or None. `profile` is an index in the set, `contour` 0 for the outer contour, 1 for the first hole and so
on; -1 where it is about the whole.

Examples
--------
>>> import planform
>>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
>>> sides = zip(corners, corners[1:] + corners[:1])
>>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
>>> hole = planform.Contour([planform.Arc((45, 20), 1)])
>>> roof = planform.ProfileSet([planform.Profile(edge, [hole])], name="roof")
>>> finding = planform.inspect(roof, 6.0).findings[0]
>>> finding.rule, finding.severity, finding.place.tolist(), finding.measured, finding.limit
('inner_width', 'error', [45.0, 20.0], 2.0, 3.0)
)")
        .def(py::init([](RuleKind rule, Severity severity, const Point2& place, std::string text,
                         std::vector<Point2> points, std::optional<double> measured,
                         std::optional<double> limit, std::string unit, int profile, int contour) {
                 Finding finding;
                 finding.rule = rule;
                 finding.severity = severity;
                 finding.place = place;
                 finding.points = std::move(points);
                 finding.measured = measured;
                 finding.limit = limit;
                 finding.unit = std::move(unit);
                 finding.profile = profile;
                 finding.contour = contour;
                 finding.text = std::move(text);
                 return finding;
             }),
             py::arg("rule"), py::arg("severity"), py::arg("place"), py::arg("text"), py::kw_only(),
             py::arg("points") = std::vector<Point2>(), py::arg("measured") = py::none(),
             py::arg("limit") = py::none(), py::arg("unit") = "", py::arg("profile") = -1,
             py::arg("contour") = -1)
        .def_readonly("rule", &Finding::rule, "The name of the rule that it breaks.")
        .def_readonly("severity", &Finding::severity, "How much it weighs.")
        .def_property_readonly(
            "place", [](const Finding& finding) { return Point2(finding.place); },
            "Where on the drawing, in mm; of several places the worst.")
        .def_property_readonly(
            "points", [](const Finding& finding) { return to_array(finding.points); },
            "Of shape (n, 2), in mm.")
        .def_readonly("measured", &Finding::measured, "What was measured, in `unit`, or None.")
        .def_readonly("limit", &Finding::limit, "The rule's limit, in `unit`, or None.")
        .def_readonly("unit", &Finding::unit, "Of measured and limit.")
        .def_readonly("profile", &Finding::profile, "Index in the set, or -1.")
        .def_readonly("contour", &Finding::contour, "0 is the outer contour; -1 none.")
        .def_readonly("text", &Finding::text, "What it is and what to do.")
        .def("__repr__", &repr);

    py::class_<Sheet>(module, "Sheet", R"(A rectangle to cut from, in mm; the margin stays free.

Examples
--------
>>> import planform
>>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
>>> sides = zip(corners, corners[1:] + corners[:1])
>>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
>>> hole = planform.Contour([planform.Arc((45, 20), 1)])
>>> roof = planform.ProfileSet([planform.Profile(edge, [hole])], name="roof")
>>> planform.inspect(roof, 3.0, sheet=planform.Sheet(50, 50, margin=2)).findings[0].rule
'sheet'
)")
        .def(py::init([](double width, double height, double margin) {
                 return Sheet{finite(width, "width"), finite(height, "height"),
                              finite(margin, "margin")};
             }),
             py::arg("width"), py::arg("height"), py::arg("margin") = 0.0)
        .def_readonly("width", &Sheet::width, "Along x, in mm.")
        .def_readonly("height", &Sheet::height, "Along y, in mm.")
        .def_readonly("margin", &Sheet::margin, "In mm, on all sides.")
        .def("__repr__", [](const Sheet& sheet) {
            return "Sheet(" + std::to_string(sheet.width) + ", " + std::to_string(sheet.height) +
                   ", margin=" + std::to_string(sheet.margin) + ")";
        });
}

void bind_narrow_place(py::module_& module) {
    py::class_<NarrowPlace>(module, "NarrowPlace",
                            R"(A narrow place of void or material, where it is narrowest.

`kind` is "inner" (void: a hole, a slot, a notch, a gap between profiles), "web" (material between two
contours) or "neck" (material within one). `width` is in mm. `touching` holds the two or three points of
the outline between which it was measured, `sides` the (profile, contour) of the first and the last of
them; contour 0 is the outer one.

Examples
--------
>>> import planform
>>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
>>> sides = zip(corners, corners[1:] + corners[:1])
>>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
>>> hole = planform.Contour([planform.Arc((45, 20), 1)])
>>> roof = planform.ProfileSet([planform.Profile(edge, [hole])], name="roof")
>>> place = planform.narrow_places(roof, 3.0)[0]
>>> place.kind, place.width
('inner', 2.0)
)")
        .def_readonly("kind", &NarrowPlace::kind, "Void, web or neck.")
        .def_readonly("width", &NarrowPlace::width, "In mm, at its narrowest.")
        .def_property_readonly(
            "center", [](const NarrowPlace& place) { return Point2(place.center); },
            "Of the disc that fits there, in mm.")
        .def_property_readonly(
            "touching", [](const NarrowPlace& place) { return to_array(place.touching); },
            "Where that disc touches the outline, of shape (n, 2), in mm.")
        .def_property_readonly(
            "sides",
            [](const NarrowPlace& place) {
                return std::pair(std::pair(place.profile, place.contour),
                                 std::pair(place.other_profile, place.other_contour));
            },
            "(profile, contour) of the first and of the last of those points.")
        .def("__repr__", [](const NarrowPlace& place) {
            return "NarrowPlace(" + std::string(word_of(place.kind)) + ", " +
                   std::to_string(place.width) + " mm at (" + std::to_string(place.center.x()) +
                   ", " + std::to_string(place.center.y()) + "))";
        });
}

}  // namespace

void bind_inspect(py::module_& module) {
    bind_rules(module);
    bind_finding(module);
    bind_narrow_place(module);
    module.def("narrow_places", &narrow_places, py::arg("profile_set"), py::arg("at_most"),
               without_gil(), R"(All narrow places of at most `at_most` mm, from the medial axis.

A disc counts that touches the outline at both ends of a diameter, has none of it inside, and is narrowest
along the axis; where walls are parallel the middle of the stretch stands for all of it. Where a hole (or
a profile) has no such place its widest disc counts: a round hole's diameter, an ellipse's minor axis. A
notch that opens by up to 30 degrees and is deeper than wide counts at its bottom. A sharp corner is no narrow place.

Parameters
----------
profile_set : ProfileSet
at_most : float
    In mm.

Returns
-------
list of NarrowPlace
    By kind, width, place. Exact on the curves themselves, to 1e-9 of the outline's size.

Raises
------
GeometryError
    If `at_most` is not a positive finite number.

Examples
--------
>>> import planform
>>> hole = planform.Contour([planform.EllipticalArc((0, 0), (5, 0), 0.2)])
>>> plate = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), 20)]), [hole])])
>>> [(place.kind, round(place.width, 9)) for place in planform.narrow_places(plate, 10)]
[('inner', 2.0)]
)");
    module.def(
        "_find_findings",
        [](const ProfileSet& profile_set, std::optional<double> thickness, const RuleSet& rules,
           std::optional<Sheet> sheet, std::vector<Finding> further) {
            return inspect(profile_set,
                           InspectOptions{thickness, rules, sheet, std::move(further)});
        },
        py::arg("profile_set"), py::arg("thickness"), py::arg("rules"), py::arg("sheet"),
        py::arg("further"), without_gil(), "What `planform.inspect` calls.");
}

}  // namespace planform::python
