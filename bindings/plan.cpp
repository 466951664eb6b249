#include <algorithm>

#include "binding.hpp"

namespace planform::python {

namespace {

/// Profile, contour, curve.
using AddressTuple = std::tuple<int, int, int>;
constexpr const char* piece_doc = R"(One piece where it lies on the sheet; lengths are mm.

Parameters
----------
name : str
outline : ProfileSet
    The way of the tool, moved to its place on the sheet.
mass : float, optional
    kg; 0: unknown.
avoid : list of (int, int, int), optional
    Curves (profile, contour, curve; contour 0 is the outer one, n hole n - 1) that nothing is to start on if
    there is room elsewhere: walls that meet other parts.

Examples
--------
>>> import planform
>>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
>>> sides = zip(corners, corners[1:] + corners[:1])
>>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
>>> hole = planform.Contour([planform.Arc((45, 20), 1)])
>>> roof = planform.ProfileSet([planform.Profile(edge, [hole])], name="roof")
>>> piece = planform.PlacedPiece("roof", roof.moved((10, 10)), mass=0.02)
>>> planform.plan_cuts([piece]).pierces
2
)";

void bind_piece(py::module_& module) {
    py::class_<PlacedPiece>(module, "PlacedPiece", piece_doc)
        .def(py::init([](std::string name, const ProfileSet& outline, double mass,
                         const std::vector<AddressTuple>& avoid) {
                 PlacedPiece piece{std::move(name), outline, finite(mass, "mass"), {}};
                 for (const auto& [profile, contour, curve] : avoid)
                     piece.avoid.push_back({profile, contour, curve});
                 return piece;
             }),
             py::arg("name"), py::arg("outline"), py::kw_only(), py::arg("mass") = 0.0,
             py::arg("avoid") = std::vector<AddressTuple>())
        .def_property_readonly(
            "name", [](const PlacedPiece& piece) { return to_str(piece.name); }, "Free text.")
        .def_property_readonly(
            "outline", [](const PlacedPiece& piece) { return piece.outline; },
            "The way of the tool where the piece lies, mm.")
        .def_readonly("mass", &PlacedPiece::mass, "kg; 0: unknown.")
        .def("__repr__", [](const PlacedPiece& piece) {
            return std::string(py::str("PlacedPiece({!r})").format(to_str(piece.name)));
        });
}

void bind_planned_cut(py::module_& module) {
    py::class_<Cut>(module, "Cut", R"(One contour of a plan: how it is cut. Lengths are mm.

`piece` is an index in the call of `plan_cuts`, `profile` and `contour` say which contour of it (0 the outer
one, n hole n - 1; of a mark profile is -1 and contour its index). `within` is the index, in the plan, of the
cut whose contour lies directly around it, or -1. `room` says what became of the entry: "as_asked", "moved"
along the contour, "shortened" (or of another shape), from the "middle" of the hole, "tight" (there, but
nearer than asked), "left_out" (the beam pierces on the contour), "none" where none was asked for.

Examples
--------
>>> import planform
>>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
>>> sides = zip(corners, corners[1:] + corners[:1])
>>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
>>> hole = planform.Contour([planform.Arc((45, 20), 1)])
>>> roof = planform.ProfileSet([planform.Profile(edge, [hole])], name="roof")
>>> plan = planform.plan_cuts([planform.PlacedPiece("roof", roof)])
>>> [(cut.role, cut.within) for cut in plan]
[('hole', 1), ('outer', -1)]
)")
        .def_readonly("piece", &Cut::piece, "Index of the piece.")
        .def_readonly("profile", &Cut::profile, "Index in the piece's outline; -1 for a mark.")
        .def_readonly("contour", &Cut::contour, "0 is the outer contour, n hole n - 1.")
        .def_property_readonly(
            "role", [](const Cut& cut) { return cut.role; }, "What the cut makes.")
        .def_readonly("within", &Cut::within, "Index of the cut around it, or -1.")
        .def_property_readonly(
            "room", [](const Cut& cut) { return cut.room; }, "What became of the entry.")
        .def_readonly("entry", &Cut::entry, "Curves from the pierce to the contour.")
        .def_readonly("stretches", &Cut::stretches,
                      "Curves along the contour from the start on, head to tail; several lists "
                      "where strips hold.")
        .def_readonly("over_cut", &Cut::over_cut, "Curves that are cut twice at the end.")
        .def_readonly("exit", &Cut::exit, "Curves from the contour into waste.")
        .def_readonly("clearance", &Cut::clearance,
                      "Least distance of the pierce from all contours, mm.")
        .def_property_readonly("pierce", &Cut::pierce,
                               "Where the beam is first switched on, mm, of shape (2,).")
        .def_property_readonly("start", &Cut::start,
                               "Where the contour is cut first, mm, of shape (2,).")
        .def_property_readonly("end", &Cut::end,
                               "Where the beam is switched off, mm, of shape (2,).")
        .def_property_readonly("pierces", &Cut::pierces, "How often the beam is switched on.")
        .def_property_readonly("length", &Cut::length, "With entry, exit and over-cut, mm.")
        .def("__repr__", [](const Cut& cut) {
            return std::string(
                py::str("Cut(piece={}, profile={}, contour={}, role={!r}, room={!r})")
                    .format(cut.piece, cut.profile, cut.contour, word_of(cut.role),
                            word_of(cut.room)));
        });
}

void bind_plan_finding(py::module_& module) {
    py::class_<PlanFinding>(module, "PlanFinding",
                            R"(What a plan could not have as asked, or what wants to be looked at.

`piece` and `cut` are indices, -1 for none; `other_piece` is that of a common cut. `place` is in mm; so are
`measured` and `limit` (numbers of strips for "strip_left_out"), or None.

Examples
--------
>>> import planform
>>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
>>> sides = zip(corners, corners[1:] + corners[:1])
>>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
>>> hole = planform.Contour([planform.Arc((45, 20), 1)])
>>> roof = planform.ProfileSet([planform.Profile(edge, [hole])], name="roof")
>>> plan = planform.plan_cuts([planform.PlacedPiece("roof", roof)], entry_length=30, clearance=5)
>>> [(finding.rule, finding.severity) for finding in plan.findings]
[('entry_tight', 'warning')]
)")
        .def_property_readonly(
            "rule", [](const PlanFinding& finding) { return finding.rule; }, "What was looked for.")
        .def_property_readonly(
            "severity", [](const PlanFinding& finding) { return finding.severity; },
            "How much it weighs.")
        .def_readonly("piece", &PlanFinding::piece, "Index of the piece, or -1.")
        .def_readonly("other_piece", &PlanFinding::other_piece, "Of a common cut, else -1.")
        .def_readonly("cut", &PlanFinding::cut, "Index in the plan, or -1.")
        .def_property_readonly(
            "place", [](const PlanFinding& finding) { return Point2(finding.place); },
            "In mm, of shape (2,).")
        .def_readonly("measured", &PlanFinding::measured, "mm, or a number of strips, or None.")
        .def_readonly("limit", &PlanFinding::limit, "What was asked for, or None.")
        .def_property_readonly(
            "text", [](const PlanFinding& finding) { return to_str(finding.text); },
            "What it is and what to do.")
        .def("__repr__", [](const PlanFinding& finding) {
            return std::string(py::str("PlanFinding({!r}, {!r})")
                                   .format(word_of(finding.rule), to_str(finding.text)));
        });
}

void bind_plan_class(py::module_& module) {
    py::class_<CutTime>(module, "CutTime", R"(Seconds of one cut; from `CutPlan.times`.

Examples
--------
>>> import planform
>>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
>>> sides = zip(corners, corners[1:] + corners[:1])
>>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
>>> hole = planform.Contour([planform.Arc((45, 20), 1)])
>>> roof = planform.ProfileSet([planform.Profile(edge, [hole])], name="roof")
>>> plan = planform.plan_cuts([planform.PlacedPiece("roof", roof)])
>>> times = plan.times(20.0, 100.0)
>>> [round(time.cutting, 4) for time in times]
[0.3642, 10.15]
)")
        .def_readonly("travel", &CutTime::travel, "From the end of the cut before, s.")
        .def_readonly("pierce", &CutTime::pierce, "Of all its pierces, s.")
        .def_readonly("cutting", &CutTime::cutting, "Of what is cut or scored, s.")
        .def_property_readonly("total", &CutTime::total, "Their sum, s.")
        .def("__repr__", [](const CutTime& time) {
            return std::string(py::str("CutTime(travel={:.3f}, pierce={:.3f}, cutting={:.3f})")
                                   .format(time.travel, time.pierce, time.cutting));
        });
    py::class_<CutPlan>(module, "CutPlan",
                        R"(The cuts of a sheet in their order, proven; lengths are mm.

From `plan_cuts`. `findings` are what could not be had as asked; `proof` says what the plan was held against.

Examples
--------
>>> import planform
>>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
>>> sides = zip(corners, corners[1:] + corners[:1])
>>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
>>> hole = planform.Contour([planform.Arc((45, 20), 1)])
>>> roof = planform.ProfileSet([planform.Profile(edge, [hole])], name="roof")
>>> plan = planform.plan_cuts([planform.PlacedPiece("roof", roof)], entry_length=0.5, clearance=0.2)
>>> plan.pierces, round(plan.cut_length, 3), plan.findings
(2, 207.283, [])
)")
        .def_readonly("cuts", &CutPlan::cuts, "The cuts, a list of Cut.")
        .def_readonly("findings", &CutPlan::findings, "By rule, then in the order of the cuts.")
        .def_property_readonly(
            "home", [](const CutPlan& plan) { return Point2(plan.home); },
            "Where the head stands at first, mm, of shape (2,).")
        .def_readonly("proof", &CutPlan::proof, "What the plan was held against.")
        .def_property_readonly("travel", &CutPlan::travel, "All ways between cuts, mm.")
        .def_property_readonly("cut_length", &CutPlan::cut_length, "All that is cut, mm.")
        .def_property_readonly("mark_length", &CutPlan::mark_length, "All that is scored, mm.")
        .def_property_readonly("pierces", &CutPlan::pierces, "How often the beam is switched on.")
        .def(
            "times",
            [](const CutPlan& plan, double cutting_speed, double travel_speed,
               std::optional<double> marking_speed, std::optional<double> acceleration,
               std::optional<double> travel_acceleration, double pierce_time, double tolerance) {
                MachineFigures figures;
                figures.cutting = motion_of(cutting_speed, acceleration);
                figures.marking = motion_of(marking_speed.value_or(cutting_speed), acceleration);
                figures.travel = motion_of(
                    travel_speed, travel_acceleration ? travel_acceleration : acceleration);
                figures.pierce_time = pierce_time;
                return cut_times(plan, figures, tolerance);
            },
            py::arg("cutting_speed"), py::arg("travel_speed"), py::kw_only(),
            py::arg("marking_speed") = py::none(), py::arg("acceleration") = py::none(),
            py::arg("travel_acceleration") = py::none(), py::arg("pierce_time") = 0.0,
            py::arg("tolerance") = default_tolerance, without_gil(),
            R"(How long each cut takes, in seconds.

On lines the closed form of uniformly accelerated motion, from rest to rest; on arcs the speed is at most the
square root of acceleration times radius; at corners of more than one degree the beam comes to rest.

Parameters
----------
cutting_speed, travel_speed : float
    mm/s.
marking_speed : float, optional
    mm/s; by default the cutting speed.
acceleration, travel_acceleration : float, optional
    mm/s²; None: speeds are had at once. Travel has that of the cuts unless told otherwise.
pierce_time : float, optional
    s, each time the beam is switched on to cut.
tolerance : float, optional
    mm within which arcs stand for ellipses and splines.

Returns
-------
list of CutTime

Raises
------
GeometryError
    For numbers that are not above 0.
)")
        .def("__repr__", [](const CutPlan& plan) {
            return std::string(py::str("CutPlan({} cuts, {} findings)")
                                   .format(plan.cuts.size(), plan.findings.size()));
        });
}

constexpr const char* plan_doc = R"(The order, the entries and the exits of all cuts on a sheet.

Marks come first, then whatever lies in a contour before the contour: holes before the outer contour around
them, islands before the hole that frees them, other pieces in a hole before the hole; then the shortest way
between cuts. The plan is replayed and every entry measured against every contour before it is handed out.
Other Python threads run meanwhile. Lengths are mm.

Parameters
----------
pieces : sequence of PlacedPiece
kerf : float, optional
    Width of the cut: gaps for strips are so much wider, and cuts of two pieces no further apart are a finding.
entry_shape : {'line', 'arc'}, optional
    A line at an angle to the contour, or a quarter of a circle that is tangential to it.
entry_length : float, optional
    0: the beam pierces on the contour.
entry_angle : float, optional
    Degrees between a line and the direction of the cut: 90 square, 0 tangential.
exit_length : float, optional
    Into waste at the end, in the same shape; 0: none.
clearance : float, optional
    The pierce keeps so far from every contour, the entry from every contour but its own.
least_hole : float, optional
    Holes whose widest disc has a smaller diameter are entered from its middle.
start : {'middle', 'corner'}, optional
    In the middle of the longest line, or at the corner with the longest curves beside it.
web : float, optional
    Starts keep off places where the material behind them is narrower, if there is room elsewhere.
over_cut : float, optional
    What is cut twice at the end; negative: what is left uncut.
hold : float, optional
    Width of holding strips; 0: none.
hold_count : int, optional
    Strips a piece, at least.
mass_per_strip : float, optional
    kg that a strip carries: heavier pieces get more; 0: all get `hold_count`.
grate : float, optional
    From bar to bar; 0: unknown. If it is known, only pieces that may fall or tip get strips.
grate_along : {'x', 'y'}, optional
    Where the bars run.
order : {'shortest', 'apart', 'along'}, optional
    Least travel; cuts that follow each other keep apart (less heat); in bands along the sheet.
apart_count, apart_distance : int, float, optional
    For 'apart': so many cuts after one, none is nearer than that, where that can be had.
band : float, optional
    For 'along': the width of a band; 0: an eighth of the sheet's longer side.
home : (float, float), optional
    Where the head stands at first.
sheet : ProfileSet, optional
    Entries stay on it. Its holes are places to keep clear.

Returns
-------
CutPlan

Raises
------
GeometryError
    For numbers out of range; 'law_broken' if the plan fails its proof.

Examples
--------
>>> import planform
>>> def circle(x, radius):
...     return planform.Contour([planform.Arc((x, 0), radius)])
>>> def piece(name, x):
...     return planform.PlacedPiece(
...         name, planform.ProfileSet([planform.Profile(circle(x, 20), [circle(x, 8)])])
...     )
>>> plan = planform.plan_cuts([piece("tray", 100), piece("lid", 150)], entry_length=2)
>>> [(cut.piece, cut.role, cut.within) for cut in plan.cuts]
[(0, 'hole', 1), (0, 'outer', -1), (1, 'hole', 3), (1, 'outer', -1)]
>>> round(sum(time.total for time in plan.times(20.0, 200.0, pierce_time=0.5)), 3)
20.923
)";

/// Where the bars of the grate run.
bool bars_along_x(const std::string& word) {
    if (word == "x" || word == "y") return word == "x";
    refuse_word("grate_along", word, {"x", "y"});
}

void bind_functions(py::module_& module) {
    module.def(
        "plan_cuts",
        [](const std::vector<PlacedPiece>& pieces, double kerf, EntryShape entry_shape,
           double entry_length, double entry_angle, double exit_length, double clearance,
           double least_hole, StartAt start, double web, double over_cut, double hold,
           int hold_count, double mass_per_strip, double grate, const std::string& grate_along,
           CutOrder order, int apart_count, double apart_distance, double band, const Point2& home,
           const std::optional<ProfileSet>& sheet) {
            PlanOptions options;
            options.kerf = kerf;
            options.entry = {entry_shape, entry_length, entry_angle * pi / 180.0,
                             exit_length, clearance,    least_hole,
                             start,       web,          over_cut};
            options.hold = {hold, hold_count, mass_per_strip};
            options.grate = {grate, bars_along_x(grate_along)};
            options.order = order;
            options.apart_count = apart_count;
            options.apart_distance = apart_distance;
            options.band = band;
            options.home = home;
            options.sheet = sheet;
            return plan_cuts(pieces, options);
        },
        py::arg("pieces"), py::kw_only(), py::arg("kerf") = 0.0,
        py::arg("entry_shape") = EntryShape::line, py::arg("entry_length") = 3.0,
        py::arg("entry_angle") = 90.0, py::arg("exit_length") = 0.0, py::arg("clearance") = 1.0,
        py::arg("least_hole") = 0.0, py::arg("start") = StartAt::middle, py::arg("web") = 0.0,
        py::arg("over_cut") = 0.0, py::arg("hold") = 0.0, py::arg("hold_count") = 2,
        py::arg("mass_per_strip") = 0.0, py::arg("grate") = 0.0, py::arg("grate_along") = "y",
        py::arg("order") = CutOrder::shortest, py::arg("apart_count") = 2,
        py::arg("apart_distance") = 50.0, py::arg("band") = 0.0,
        py::arg("home") = py::make_tuple(0.0, 0.0), py::arg("sheet") = py::none(), without_gil(),
        plan_doc);
    module.def(
        "rest_on",
        [](const Profile& profile, double grate, const std::string& grate_along) {
            return rest_on(profile, {grate, bars_along_x(grate_along)});
        },
        py::arg("profile"), py::arg("grate"), py::arg("grate_along") = "y",
        R"(How a piece lies on parallel bars, wherever they are.

It has a bar on a side of its centre of gravity, whatever the place of the bars, if it reaches at least an
opening far on that side (statics of a plate).

Parameters
----------
profile : Profile
grate : float
    From bar to bar, mm.
grate_along : {'x', 'y'}, optional
    Where the bars run.

Returns
-------
{'lies', 'may_tip', 'falls_through'}

Raises
------
GeometryError
    For an opening that is not above 0.

Examples
--------
>>> import planform
>>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
>>> sides = zip(corners, corners[1:] + corners[:1])
>>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
>>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
>>> [planform.rest_on(roof[0], grate) for grate in (20, 50, 80)]
['lies', 'may_tip', 'falls_through']
)");
}

}  // namespace

void bind_plan(py::module_& module) {
    bind_piece(module);
    bind_planned_cut(module);
    bind_plan_finding(module);
    bind_plan_class(module);
    bind_functions(module);
}

}  // namespace planform::python
