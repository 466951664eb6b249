#include <map>

#include "binding.hpp"

namespace planform::python {

namespace {

using SetClass = py::class_<ProfileSet>;
using ByRole = std::map<ContourRole, double>;
using ByPlace = py::typing::Callable<double(CurvePlace)>;
using Distance = py::typing::Union<double, ByRole, std::vector<double>, ByPlace>;

std::vector<double> listed(const ProfileSet& set, const Distance& distance) {
    const std::vector<CurvePlace> places = curve_places(set);
    std::vector<double> distances;
    distances.reserve(places.size());
    if (py::isinstance<py::float_>(distance) || py::isinstance<py::int_>(distance)) {
        distances.assign(places.size(), distance.cast<double>());
    } else if (py::isinstance<py::dict>(distance)) {
        const auto by_role = distance.cast<ByRole>();
        for (const CurvePlace& place : places) {
            const auto found = by_role.find(place.role);
            distances.push_back(found == by_role.end() ? 0.0 : found->second);
        }
    } else if (PyCallable_Check(distance.ptr()) != 0) {
        for (const CurvePlace& place : places) distances.push_back(distance(place).cast<double>());
    } else {
        distances = distance.cast<std::vector<double>>();
        if (distances.size() != places.size())
            throw GeometryError(ErrorKind::invalid_argument,
                                std::to_string(distances.size()) + " distances for " +
                                    std::to_string(places.size()) +
                                    " curves; one is needed for each, in the order of "
                                    "curve_places()");
    }
    return distances;
}

/// The same; throws TypeError that says what is taken.
std::vector<double> checked_list(const ProfileSet& set, const Distance& distance) {
    try {
        return listed(set, distance);
    } catch (const py::cast_error&) {
        throw py::type_error(
            "offset: distance is none of a number, a dict of numbers by role ('outer', 'hole', "
            "'island'), a list of numbers or a function that gives one; pass one of them, in mm");
    }
}

Allowed offset_by(const ProfileSet& set, const Distance& distance, Corners corners, double limit) {
    const std::vector<double> distances = checked_list(set, distance);
    const py::gil_scoped_release released;
    std::size_t next = 0;
    return offset(set, [&](const CurvePlace&) { return distances[next++]; }, {corners, limit});
}

constexpr const char* offset_with_findings = R"(>>> import planform
>>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
>>> sides = zip(corners, corners[1:] + corners[:1])
>>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
>>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
>>> result = planform.offset(roof, {"outer": 0.075, "hole": 0.1})
>>> result.profiles.bounds.tolist(), result.findings
([[-0.075, -0.075], [60.075, 40.075]], [])
)";

constexpr const char* closed_with_findings = R"(>>> import planform
>>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
>>> sides = zip(corners, corners[1:] + corners[:1])
>>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
>>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
>>> notch = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 20), 3)]))])
>>> result = planform.closed(roof.difference(notch), 5)
>>> [finding.rule for finding in result.findings], round(result.profiles.area, 3)
(['unreached'], 2395.912)
)";

constexpr const char* opened_with_findings = R"(>>> import planform
>>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
>>> sides = zip(corners, corners[1:] + corners[:1])
>>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
>>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
>>> result = planform.opened(roof, 3)
>>> round(roof.area - result.profiles.area, 6)  # four corners lose (4 - pi) r^2 together
7.725666
)";

constexpr const char* relieved_with_findings = R"(>>> import planform
>>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
>>> sides = zip(corners, corners[1:] + corners[:1])
>>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
>>> square = [(20, 10), (20, 30), (26, 30), (26, 10)]
>>> walls = zip(square, square[1:] + square[:1])
>>> slot = planform.Contour([planform.Line(start, end) for start, end in walls])
>>> board = planform.ProfileSet([planform.Profile(edge, [slot])])
>>> result = planform.relieved(board, 1.0)
>>> len(result.profiles[0].holes[0]), round(board.area - result.profiles.area, 3)
(8, 2.283)
)";

void bind_offset_results(py::module_& module) {
    py::class_<CurvePlace>(module, "CurvePlace", R"(One curve of a profile set.

Examples
--------
>>> import planform
>>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
>>> sides = zip(corners, corners[1:] + corners[:1])
>>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
>>> hole = planform.Contour([planform.Arc((45, 20), 1)])
>>> roof = planform.ProfileSet([planform.Profile(edge, [hole])], name="roof")
>>> places = planform.curve_places(roof)
>>> [(place.contour, place.curve, place.role) for place in places][-2:]
[(0, 3, 'outer'), (1, 0, 'hole')]
)")
        .def_readonly("profile", &CurvePlace::profile, "Index of the profile in the set.")
        .def_readonly("contour", &CurvePlace::contour, "0 is the outer contour, 1 the first hole.")
        .def_readonly("curve", &CurvePlace::curve, "Index of the curve in its contour.")
        .def_property_readonly(
            "role", [](const CurvePlace& place) { return place.role; },
            "'outer', 'hole', or 'island' for the outer contour of a profile in a hole.")
        .def("__repr__", [](const CurvePlace& place) {
            return std::string(
                py::str("CurvePlace(profile={}, contour={}, curve={}, role={!r})")
                    .format(place.profile, place.contour, place.curve, word_of(place.role)));
        });
    py::class_<Allowed>(module, "Allowed",
                        R"(An outline that was changed, and what there is to say about it.

`profiles` is the new ProfileSet; `findings` are changes in kind (rules "contour_gone", "split",
"merged", "unreached", "relief") with places in mm. Profiles and contours in them are counted in the set
that went in.

Examples
--------
>>> import planform
>>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
>>> sides = zip(corners, corners[1:] + corners[:1])
>>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
>>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
>>> grown = planform.offset(roof, 0.1)
>>> round(grown.profiles.area, 3), grown.findings
(2420.031, [])
)")
        .def_property_readonly(
            "profiles", [](const Allowed& allowed) { return allowed.profiles; },
            "The new outlines, in mm.")
        .def_property_readonly(
            "findings", [](const Allowed& allowed) { return allowed.findings; },
            "What changed in kind, by rule and place.")
        .def("__repr__", [](const Allowed& allowed) {
            return std::string(
                py::str("Allowed(profiles={}, findings={})")
                    .format(allowed.profiles.profiles().size(), allowed.findings.size()));
        });
}

constexpr const char* parameters = R"(
Parameters
----------
)";

constexpr const char* set_parameter = R"(profile_set : ProfileSet
    The outlines, in mm.
)";

constexpr const char* offset_text = R"(
Lines give lines, arcs arcs about the same centre, ellipses and splines a spline within a tenth of the
set's tolerance of their parallel curve. Outer contours and holes move at once; profiles may meet, fall
apart or vanish. Marks stay. Other Python threads run meanwhile.
)";

constexpr const char* offset_parameters = R"(distance : float, dict, sequence of float or callable
    mm; positive grows the material, negative takes from it, 0 leaves it. A dict gives it by role
    ('outer', 'hole', 'island'; 0 for those not in it), a sequence by curve in the order of
    `curve_places`, a callable is asked with the `CurvePlace` of each. Neighbours with different
    distances meet in the intersection of what they are moved to, led on if need be; where there is
    none near, a step along the normals joins them.
corners : {'round', 'sharp', 'flat'}, optional
    What lies about corners where the moved curves part: an arc, what they lead to, a straight line.
limit : float, optional
    Greatest distance of a sharp tip from its corner as a multiple of the distance, flat beyond: 4
    keeps corners of 29 degrees and more (stroke-miterlimit, SVG 2, section 13.5.4).
)";

constexpr const char* set_returned = R"(
Returns
-------
ProfileSet
    In mm, with the same datum, tolerance, name and marks; a note for each change in kind. Empty if
    nothing is left.
)";

constexpr const char* allowed_returned = R"(
Returns
-------
Allowed
    The new set, and changes in kind as findings.
)";

constexpr const char* errors = R"(
Raises
------
GeometryError
    For numbers that make no sense; if outlines can't be told apart (the message gives the place).
)";

constexpr const char* offset_example = R"(
Examples
--------
>>> import planform
>>> def circle(radius):
...     return planform.Contour([planform.Arc((0, 0), radius)])
>>> ring = planform.ProfileSet([planform.Profile(circle(10), [circle(6)])])
>>> wider = ring.offset(0.5)
>>> [wider.profiles[0].outer.curves[0].radius, wider.profiles[0].holes[0].curves[0].radius]
[10.5, 5.5]
>>> ring.offset({"outer": 0.5}).profiles[0].holes[0].curves[0].radius
6.0
)";

constexpr const char* radius_parameter = R"(radius : float
    Of the tool, in mm.
)";

constexpr const char* relieved_first =
    "A circle of the tool's radius cut out of each inner corner that is sharper than the tool, so "
    "that a\nsquare tab seats. Nothing else changes. A corner that is left as it is, for its web "
    "or "
    "as its walls are\ntoo short, is a finding ('relief').\n";
constexpr const char* relieved_parameters = R"(radius : float
    Of the tool, in mm.
style : {'corner', 'side'}, optional
    The circle on the bisector, through the corner; or touching the shorter wall in the corner, cut into
    the longer one.
least_web : float, optional
    mm: no relief where less material than this would be left beside it.
)";

constexpr const char* closed_first =
    "What a round tool that runs outside of the material leaves: grown by the radius, then shrunk\n"
    "by it. Inner corners are rounded, gaps narrower than the tool filled; each is a finding "
    "('unreached',\nwith its area in mm^2).\n";
constexpr const char* opened_first =
    "What a disc that stays in the material can reach: shrunk by the radius, then grown by it.\n"
    "Outer corners are rounded, webs narrower than the disc gone; each is a finding ('unreached', "
    "with its\narea in mm^2).\n";

Allowed relieved_by(const ProfileSet& set, double radius, ReliefStyle style, double least_web) {
    return relieved(set, radius, {style, least_web});
}

void add_to_sets(SetClass& type) {
    const auto text = [](std::initializer_list<const char*> parts) {
        std::string joined;
        for (const char* part : parts) joined += part;
        return joined;
    };
    type.def(
        "offset",
        [](const ProfileSet& set, const Distance& distance, Corners corners, double limit) {
            return offset_by(set, distance, corners, limit).profiles;
        },
        py::arg("distance"), py::arg("corners") = Corners::round, py::arg("limit") = 4.0,
        text({"The outlines moved by an exact distance; positive grows the material.\n",
              offset_text, parameters, offset_parameters, set_returned, errors, offset_example})
            .c_str());
    type.def(
        "closed", [](const ProfileSet& set, double radius) { return closed(set, radius).profiles; },
        py::arg("radius"), without_gil(),
        text({closed_first, parameters, radius_parameter, set_returned, errors}).c_str());
    type.def(
        "opened", [](const ProfileSet& set, double radius) { return opened(set, radius).profiles; },
        py::arg("radius"), without_gil(),
        text({opened_first, parameters, radius_parameter, set_returned, errors}).c_str());
    type.def(
        "relieved",
        [](const ProfileSet& set, double radius, ReliefStyle style, double least_web) {
            return relieved_by(set, radius, style, least_web).profiles;
        },
        py::arg("radius"), py::arg("style") = ReliefStyle::corner, py::arg("least_web") = 1.0,
        without_gil(),
        text({relieved_first, parameters, relieved_parameters, set_returned, errors}).c_str());
}

void add_functions(py::module_& module) {
    module.def("curve_places", &curve_places, py::arg("profile_set"),
               R"(All curves of the profiles of a set: profile by profile, the outer contour first.

Parameters
----------
profile_set : ProfileSet

Returns
-------
list of CurvePlace

Examples
--------
>>> import planform
>>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
>>> sides = zip(corners, corners[1:] + corners[:1])
>>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
>>> hole = planform.Contour([planform.Arc((45, 20), 1)])
>>> roof = planform.ProfileSet([planform.Profile(edge, [hole])], name="roof")
>>> [place.role for place in planform.curve_places(roof)]
['outer', 'outer', 'outer', 'outer', 'hole']
)");
    const auto text = [](const char* first, const char* rest, const char* example) {
        return std::string(first) + parameters + set_parameter + rest + allowed_returned + errors +
               "\nExamples\n--------\n" + example;
    };
    module.def("offset", &offset_by, py::arg("profile_set"), py::arg("distance"),
               py::arg("corners") = Corners::round, py::arg("limit") = 4.0,
               text("`ProfileSet.offset` with its findings; lengths in mm.\n", offset_parameters,
                    offset_with_findings)
                   .c_str());
    module.def("closed", &closed, py::arg("profile_set"), py::arg("radius"), without_gil(),
               text(closed_first, radius_parameter, closed_with_findings).c_str());
    module.def("opened", &opened, py::arg("profile_set"), py::arg("radius"), without_gil(),
               text(opened_first, radius_parameter, opened_with_findings).c_str());
    module.def("relieved", &relieved_by, py::arg("profile_set"), py::arg("radius"),
               py::arg("style") = ReliefStyle::corner, py::arg("least_web") = 1.0, without_gil(),
               text(relieved_first, relieved_parameters, relieved_with_findings).c_str());
}

}  // namespace

void bind_offset(py::module_& module) {
    bind_offset_results(module);
    auto type = py::reinterpret_borrow<SetClass>(py::object(module.attr("ProfileSet")));
    add_to_sets(type);
    add_functions(module);
}

}  // namespace planform::python
