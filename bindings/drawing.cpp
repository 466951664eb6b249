#include <span>

#include "binding.hpp"

namespace planform::python {

namespace {

void bind_parts(py::module_& module) {
    py::class_<DoubledCurve>(
        module, "DoubledCurve",
        R"(A curve, or a part of it, that lies on another one; from `close_contours`.

Examples
--------
>>> import planform
>>> line = planform.Line
>>> closed = planform.close_contours([line((0, 0), (60, 0)), line((20, 0), (50, 0))])
>>> closed.doubles[0].length
30.0
)")
        .def_readonly("curve", &DoubledCurve::curve, "Index of the curve that is left out there.")
        .def_readonly("other", &DoubledCurve::other, "Index of the curve that is kept.")
        .def_readonly("start", &DoubledCurve::start, "Start of the part in mm, shape (2,).")
        .def_readonly("end", &DoubledCurve::end, "End of the part in mm, shape (2,).")
        .def_readonly("length", &DoubledCurve::length, "Length of the part in mm.")
        .def_readonly("whole", &DoubledCurve::whole, "True if all of the curve lies on the other.")
        .def("__repr__", [](const DoubledCurve& doubled) {
            return std::string(
                py::str("DoubledCurve(curve={}, other={}, length={!r}, whole={!r})")
                    .format(doubled.curve, doubled.other, doubled.length, doubled.whole));
        });
    py::class_<Gap>(
        module, "Gap",
        R"(Two loose ends that face each other, or one with none in reach; from `close_contours`.

Examples
--------
>>> import planform
>>> line = planform.Line
>>> sides = [line((0, 0), (60, 0)), line((60, 0), (0, 40)), line((0, 0.1), (0, 40))]
>>> gap = planform.close_contours(sides, gap=0.2).gaps[0]
>>> gap.closing, round(gap.width, 3)
('extended', 0.1)
)")
        .def_readonly("curve", &Gap::curve, "Index of the curve with the loose end.")
        .def_readonly("other", &Gap::other,
                      "Index of the curve with the other loose end, -1 if there is none.")
        .def_readonly("place", &Gap::place, "The loose end in mm, shape (2,).")
        .def_readonly("partner", &Gap::partner, "The other end in mm, shape (2,).")
        .def_readonly("width", &Gap::width, "Between the two in mm; infinite if there is none.")
        .def_property_readonly(
            "closing", [](const Gap& gap) { return gap.closing; },
            "'open': nothing was done; 'extended': the curves go on, or are cut back, to their "
            "common point; 'blended': a curve went in that has the directions, and where they fit, "
            "the curvatures of both ends; 'bridged': a straight piece went in.")
        .def("__repr__", [](const Gap& gap) {
            return std::string(
                py::str("Gap(place=({!r}, {!r}), width={!r}, closing={!r})")
                    .format(gap.place.x(), gap.place.y(), gap.width, word_of(gap.closing)));
        });
    py::class_<OpenChain>(module, "OpenChain",
                          R"(Curves head to tail that close nothing; from `close_contours`.

Examples
--------
>>> import planform
>>> line = planform.Line
>>> closed = planform.close_contours([line((0, 0), (60, 0)), line((60, 0), (60, 40))])
>>> closed.open[0].curves, closed.open[0].length
([0, 1], 100.0)
)")
        .def_readonly("curves", &OpenChain::curves, "Indices of the curves.")
        .def_readonly("pieces", &OpenChain::pieces,
                      "What lies there, head to tail: all of a curve or a part of it.")
        .def_readonly("sources", &OpenChain::sources, "One a piece: index of the curve.")
        .def_readonly("start", &OpenChain::start, "Its start in mm, shape (2,).")
        .def_readonly("end", &OpenChain::end, "Its end in mm, shape (2,).")
        .def_readonly("length", &OpenChain::length, "Length in mm.")
        .def_readonly("stray", &OpenChain::stray,
                      "True if it bounds nothing; False for an outline with a part missing.")
        .def("__repr__", [](const OpenChain& chain) {
            return std::string(py::str("OpenChain(curves={}, length={!r}, stray={!r})")
                                   .format(chain.curves, chain.length, chain.stray));
        });
    py::class_<TinyCurve>(module, "TinyCurve", R"(A curve without length; from `close_contours`.

Examples
--------
>>> import planform
>>> line = planform.Line
>>> closed = planform.close_contours([line((0, 0), (60, 0)), line((5, 5), (5, 5.000001))])
>>> [tiny.curve for tiny in closed.tiny]
[1]
)")
        .def_readonly("curve", &TinyCurve::curve, "Index of the curve.")
        .def_readonly("place", &TinyCurve::place, "Where it is, in mm, shape (2,).")
        .def_readonly("length", &TinyCurve::length, "Length in mm.")
        .def("__repr__", [](const TinyCurve& tiny) {
            return std::string(
                py::str("TinyCurve(curve={}, length={!r})").format(tiny.curve, tiny.length));
        });
    py::class_<CrossedCurves>(
        module, "CrossedCurves",
        R"(Two outlines, or two parts of one, that cross; from `close_contours`.

Examples
--------
>>> import planform
>>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
>>> sides = zip(corners, corners[1:] + corners[:1])
>>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
>>> other = planform.Contour(edge.curves).transformed([[1, 0, 30], [0, 1, 20], [0, 0, 1]])
>>> crossings = planform.close_contours([*edge.curves, *other.curves]).crossings
>>> [crossing.place.tolist() for crossing in crossings]
[[60.0, 20.0], [30.0, 40.0]]
)")
        .def_readonly("first", &CrossedCurves::first, "Index of a curve.")
        .def_readonly("second", &CrossedCurves::second, "Index of the curve that crosses it.")
        .def_readonly("place", &CrossedCurves::place, "Where they cross, in mm, shape (2,).")
        .def("__repr__", [](const CrossedCurves& crossed) {
            return std::string(
                py::str("CrossedCurves({}, {}, place=({!r}, {!r}))")
                    .format(crossed.first, crossed.second, crossed.place.x(), crossed.place.y()));
        });
}

void bind_results(py::module_& module) {
    py::class_<ClosedChain>(module, "ClosedChain",
                            R"(A contour with where its curves come from; from `close_contours`.

Examples
--------
>>> import planform
>>> line = planform.Line
>>> sides = [line((0, 0), (60, 0)), line((60, 0), (0, 40)), line((0, 0), (0, 40))]
>>> chain = planform.close_contours(sides).chains[0]
>>> chain.contour.area, chain.sources
(1200.0, [0, 1, 2])
)")
        .def_readonly("contour", &ClosedChain::contour, "The contour.")
        .def_readonly("sources", &ClosedChain::sources,
                      "One a curve: index of the curve that was given, -1 for a piece put in.")
        .def_readonly("changed", &ClosedChain::changed,
                      "One a curve: True if it is not the whole curve as it was given.")
        .def("__repr__", [](const ClosedChain& chain) {
            return std::string(py::str("ClosedChain(<{} curves>, area={!r})")
                                   .format(chain.sources.size(), chain.contour.area()));
        });
    py::class_<ClosedContours>(
        module, "ClosedContours",
        R"(What `close_contours` made of loose curves, and what was wrong with them. Indices are those of the
curves given.

Examples
--------
>>> import planform
>>> line = planform.Line
>>> sides = [line((0, 0), (60, 0)), line((60, 0), (0, 40)), line((0, 0.1), (0, 40))]
>>> closed = planform.close_contours(sides, gap=0.2)
>>> len(closed.chains), [round(gap.width, 3) for gap in closed.gaps], closed.doubles
(1, [0.1], [])
)")
        .def_readonly("chains", &ClosedContours::chains, "The closed chains.")
        .def_property_readonly(
            "contours",
            [](const ClosedContours& closed) {
                std::vector<Contour> contours;
                for (const ClosedChain& chain : closed.chains) contours.push_back(chain.contour);
                return contours;
            },
            "The contours of the closed chains.")
        .def_readonly("open", &ClosedContours::open, "Chains that close nothing.")
        .def_readonly("gaps", &ClosedContours::gaps, "Gaps, closed or not.")
        .def_readonly("doubles", &ClosedContours::doubles, "What is drawn twice.")
        .def_readonly("tiny", &ClosedContours::tiny, "Curves without length.")
        .def_readonly("crossings", &ClosedContours::crossings, "Where contours cross.")
        .def("__repr__", [](const ClosedContours& closed) {
            return std::string(py::str("ClosedContours(chains={}, open={}, gaps={}, doubles={}, "
                                       "tiny={}, crossings={})")
                                   .format(closed.chains.size(), closed.open.size(),
                                           closed.gaps.size(), closed.doubles.size(),
                                           closed.tiny.size(), closed.crossings.size()));
        });
}

constexpr const char* flattened_doc =
    R"(Recognise curves that somebody has flattened to short lines.

Runs of lines become as few lines and circular arcs as `tolerance` allows: no point of either is further from
the other. Each begins and ends in an end of a line of the run; a corner stays a corner, and what is no line
stays as it is. Time grows with n log n for n lines. Other Python threads run meanwhile.

Parameters
----------
curves : sequence of Line, Arc, EllipticalArc or Spline
    Head to tail, in mm.
tolerance : float, optional
    In mm.
closed : bool, optional
    Whether the end is the start.

Returns
-------
list of FittedCurve

Raises
------
GeometryError
    If the curves are not head to tail, or the tolerance is not positive and finite.

Examples
--------
>>> import planform
>>> ring = planform.Contour([planform.Arc((0, 0), radius=20)])
>>> points = ring.points(0.01)
>>> lines = [planform.Line(a, b) for a, b in zip(points, [*points[1:], points[0]])]
>>> [(type(f.curve).__name__, round(f.curve.radius, 9)) for f in planform.fit_flattened(lines)]
[('Arc', 20.0)]
)";

void bind_flattened(py::module_& module) {
    py::class_<FittedCurve>(
        module, "FittedCurve",
        R"(A line or arc in place of some curves of a chain; from `fit_flattened`.

Examples
--------
>>> import math, planform
>>> rim = [(20 * math.cos(t / 50), 20 * math.sin(t / 50)) for t in range(158)]
>>> chords = [planform.Line(start, end) for start, end in zip(rim, rim[1:])]
>>> fitted = planform.fit_flattened(chords, 0.01, closed=False)
>>> [(type(piece.curve).__name__, round(piece.curve.radius, 3)) for piece in fitted]
[('Arc', 20.0)]
)")
        .def_readonly("curve", &FittedCurve::curve, "The curve, in mm.")
        .def_readonly("first", &FittedCurve::first,
                      "Index of the first curve of the chain that it stands for.")
        .def_readonly("count", &FittedCurve::count, "How many curves it stands for.")
        .def("__repr__", [](const FittedCurve& fitted) {
            return std::string(py::str("FittedCurve({}, first={}, count={})")
                                   .format(fitted.curve, fitted.first, fitted.count));
        });
    module.def(
        "fit_flattened",
        [](const std::vector<Curve>& curves, double tolerance, bool closed) {
            return fit_flattened(curves, tolerance, closed);
        },
        py::arg("curves"), py::arg("tolerance") = 0.02, py::kw_only(), py::arg("closed") = true,
        without_gil(), flattened_doc);
}

constexpr const char* close_doc =
    R"(Chain loose curves, in any order and direction, to closed contours.

What is drawn twice counts once. A gap of at most `gap` is closed exactly where it can be: both curves
go on (or are cut back) along themselves to their common point if that moves no end by more than the
gap, so lines stay lines and arcs keep centre and radius; else a curve goes in if directions and
curvatures at the ends fit one, a straight piece if not. Time grows with n log n for n curves. Other Python threads run meanwhile.

Parameters
----------
curves : sequence of Line, Arc, EllipticalArc or Spline
    In mm.
gap : float, optional
    Ends up to this far apart in mm are joined, and the gap is reported as closed. Without it gaps are
    found and left open.
groups : sequence of int, optional
    One number a curve: where more than two curves meet, those of one group stay together.
joint : float, optional
    Ends nearer than this in mm are one point; a curve that is no longer has no length.
rounding : float, optional
    Two loose ends nearer than this in mm are joined without a word: rounding of the file.
same : float, optional
    Curves that run within this many mm of each other are drawn twice.

Returns
-------
ClosedContours

Raises
------
GeometryError
    For a limit that is negative or not finite, or a curve whose numbers make no sense.

Examples
--------
>>> import planform
>>> corners = [(0, 0), (30, 0), (30, 20), (0, 20)]
>>> sides = [planform.Line(a, b) for a, b in zip(corners, corners[1:] + corners[:1])]
>>> short = planform.Line((0, 20), (0, 0.4))
>>> closed = planform.close_contours(sides[:3] + [short], gap=0.5)
>>> closed.contours[0].area, closed.gaps
(600.0, [Gap(place=(0.0, 0.0), width=0.4, closing='extended')])
)";

constexpr const char* depths_doc = R"(How many of the other contours lie around each one.

Parameters
----------
contours : sequence of Contour
    That don't cross.

Returns
-------
list of int
    One a contour: 0 outside, odd for holes.

Examples
--------
>>> import planform
>>> rings = [planform.Contour([planform.Arc((0, 0), radius)]) for radius in (3, 9, 6)]
>>> planform.nesting_depths(rings)
[2, 0, 1]
)";

constexpr const char* nested_doc = R"(Profiles from contours by how they lie in each other.

A contour in an odd number of others is a hole of the smallest around it; one in a hole is an island.

Parameters
----------
contours : sequence of Contour
    That don't cross.
names : sequence of str, optional
    One a contour; a profile has that of its outer contour.

Returns
-------
list of Profile

Raises
------
GeometryError
    If there is another number of names than of contours, or a contour encloses nothing.

Examples
--------
>>> import planform
>>> rings = [planform.Contour([planform.Arc((0, 0), radius)]) for radius in (3, 9, 6)]
>>> [(len(p.holes), p.parent) for p in planform.nested_profiles(rings)]
[(0, 1), (1, -1)]
)";

}  // namespace

void bind_drawing(py::module_& module) {
    bind_parts(module);
    bind_results(module);
    bind_flattened(module);
    const ClosingOptions defaults;
    module.def(
        "close_contours",
        [](const std::vector<Curve>& curves, double gap, const std::vector<int>& groups,
           double joint, double rounding, double same) {
            return close_contours(curves, {gap, joint, rounding, same}, groups);
        },
        py::arg("curves"), py::kw_only(), py::arg("gap") = defaults.gap,
        py::arg("groups") = std::vector<int>(), py::arg("joint") = defaults.joint,
        py::arg("rounding") = defaults.rounding, py::arg("same") = defaults.same, without_gil(),
        close_doc);
    module.def(
        "nesting_depths",
        [](const std::vector<Contour>& contours) { return nesting_depths(contours); },
        py::arg("contours"), without_gil(), depths_doc);
    module.def(
        "nested_profiles",
        [](const std::vector<Contour>& contours, const std::vector<std::string>& names) {
            return nested_profiles(contours, names);
        },
        py::arg("contours"), py::kw_only(), py::arg("names") = std::vector<std::string>(),
        without_gil(), nested_doc);
}

}  // namespace planform::python
