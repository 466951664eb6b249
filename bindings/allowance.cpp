#include "binding.hpp"

namespace planform::python {

namespace {

/// Profile, contour, curve; mm.
using FitTuple = std::tuple<int, int, int, double>;

std::vector<CurveFit> to_fits(const std::vector<FitTuple>& tuples) {
    std::vector<CurveFit> fits;
    for (const auto& [profile, contour, curve, distance] : tuples)
        fits.push_back({{profile, contour, curve}, distance});
    return fits;
}

std::vector<FitTuple> to_tuples(const std::vector<CurveFit>& fits) {
    std::vector<FitTuple> tuples;
    for (const CurveFit& fit : fits)
        tuples.emplace_back(fit.at.profile, fit.at.contour, fit.at.curve, fit.distance);
    return tuples;
}

constexpr const char* allowance_doc =
    R"(What lies between the outline of a part and the way of the tool. Lengths are mm.

Parameters
----------
kerf : float, optional
    Width of material that the tool removes; half of it goes outward all round: outer contours and islands
    grow, holes shrink. Marks stay.
fit : float, optional
    The gap between walls that meet, on each side; negative for a press fit.
relief : float, optional
    Diameter of the tool that inner corners are relieved for; 0: they are not.
relief_style : {'corner', 'side'}, optional
    See `relieved`.
fits : list of (int, int, int, float), optional
    Profile, contour (0 the outer one, n hole n - 1), curve, and what the curve gives for the fit: positive
    takes material away. `MatingOutline.fits` and `inner_fits` make such lists.

Examples
--------
>>> import planform
>>> planform.Allowance(kerf=0.15)
Allowance(kerf=0.15, fit=0, relief=0, fits=0)
)";

constexpr const char* as_cut_doc =
    R"(The way of the tool for an outline: first the fits, then the reliefs, then the width of cut.

A part cut along it has walls at the outline's, moved by its fits, lines and arcs to 1e-9 of the
coordinates, all else within a tenth of the tolerance. Corners stay sharp, unless the outline has a tip
sharper than 29 degrees. A tip that the tool can't reach is a note. Other Python threads run meanwhile.

Parameters
----------
outline : ProfileSet
allowance : Allowance

Returns
-------
ProfileSet
    In mm; its notes say what is in it.

Raises
------
GeometryError
    For numbers that make no sense, and for an allowance that is in the outline already, as its notes say;
    with name and place where a hole, a slot, a notch or a gap is no wider than the cut, or a fit larger than
    a tab or a slot.
)";

}  // namespace

void bind_allowance(py::module_& module) {
    py::class_<Allowance>(module, "Allowance", allowance_doc)
        .def(py::init([](double kerf, double fit, double relief, ReliefStyle style,
                         const std::vector<FitTuple>& fits) {
                 return Allowance{finite(kerf, "kerf"), finite(fit, "fit"),
                                  finite(relief, "relief"), style, to_fits(fits)};
             }),
             py::kw_only(), py::arg("kerf") = 0.0, py::arg("fit") = 0.0, py::arg("relief") = 0.0,
             py::arg("relief_style") = ReliefStyle::corner,
             py::arg("fits") = std::vector<FitTuple>{})
        .def_readonly("kerf", &Allowance::kerf, "Width of cut, mm.")
        .def_readonly("fit", &Allowance::fit, "Gap between walls that meet, mm.")
        .def_readonly("relief", &Allowance::relief, "Diameter of the tool, mm; 0: no relief.")
        .def_property_readonly(
            "relief_style", [](const Allowance& allowance) { return allowance.relief_style; },
            "'corner' or 'side'.")
        .def_property_readonly(
            "fits", [](const Allowance& allowance) { return to_tuples(allowance.fits); },
            "(profile, contour, curve, mm) of the curves that give for the fit.")
        .def_property_readonly("is_none", &Allowance::is_none,
                               "True if the way of the tool is the outline itself.")
        .def_static(
            "from_json",
            [](const std::string& text) {
                const std::size_t first = text.find_first_not_of(" \t\r\n");
                const bool document = first != std::string::npos && text[first] == '{';
                return document ? allowance_from_json(text) : read_json_allowance(text);
            },
            py::arg("text_or_path"), without_gil(),
            R"(What a JSON of `ProfileSet.to_json` says about the allowance; None if it has none.

Parameters
----------
text_or_path : str or path-like
    A str whose first character (blanks aside) is ``{`` is the document itself, all else is a path.

Returns
-------
Allowance or None
    Lengths are mm.

Raises
------
GeometryError, LoadError
    As `ProfileSet.from_json`.
)")
        .def_static("from_json", &read_json_allowance, py::arg("text_or_path"), without_gil(),
                    "Read the file.")
        .def("__repr__", [](const Allowance& allowance) {
            return std::string(py::str("Allowance(kerf={:g}, fit={:g}, relief={:g}, fits={})")
                                   .format(allowance.kerf, allowance.fit, allowance.relief,
                                           allowance.fits.size()));
        });
    module.def("as_cut", &as_cut, py::arg("outline"), py::arg("allowance"), without_gil(),
               as_cut_doc);
    module.def("allowance_notes", &allowance_notes, py::arg("outline"),
               R"(Those of the notes of a way that say what `as_cut` has put into it.

Parameters
----------
outline : ProfileSet

Returns
-------
list of str
    Empty for an outline as it was drawn.

Examples
--------
>>> import planform
>>> disc = planform.Contour([planform.Arc((0, 0), 10)])
>>> perch = planform.ProfileSet([planform.Profile(disc)])
>>> planform.allowance_notes(perch)
[]
>>> planform.allowance_notes(perch.as_cut(kerf=0.2))[0].partition(":")[0]
'the width of cut, 0.2 mm, is in it'
)");
    auto outline = py::reinterpret_borrow<py::class_<MatingOutline>>(module.attr("MatingOutline"));
    outline.def(
        "fits",
        [](const MatingOutline& mating, double fit) {
            return to_tuples(fits_of(mating, finite(fit, "fit")));
        },
        py::arg("fit"),
        "What its curves give for a fit of so many mm: (profile, contour, curve, mm) of those that "
        "give any.");
    module.def(
        "inner_fits",
        [](const ProfileSet& set, double fit, FitOn fit_on) {
            return to_tuples(inner_fits(set, finite(fit, "fit"), fit_on));
        },
        py::arg("outline"), py::arg("fit"), py::arg("fit_on") = FitOn::slot,
        R"(A fit on all inner contours, for outlines without an assembly.

Parameters
----------
outline : ProfileSet
fit : float
    mm; negative for a press fit.
fit_on : {'slot', 'both'}, optional
    All of it, or half of it.

Returns
-------
list of (int, int, int, float)
    Profile, contour, curve, mm.

Raises
------
GeometryError
    For 'tab': without an assembly no tab is known.

Examples
--------
>>> import planform
>>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
>>> sides = zip(corners, corners[1:] + corners[:1])
>>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
>>> hole = planform.Contour([planform.Arc((45, 20), 1)])
>>> roof = planform.ProfileSet([planform.Profile(edge, [hole])], name="roof")
>>> planform.inner_fits(roof, 0.1)  # profile, contour, curve, mm
[(0, 1, 0, 0.1)]
)");
}

}  // namespace planform::python
