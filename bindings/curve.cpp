#include "binding.hpp"

namespace planform::python {

namespace {

/// Poles, knots and weights as arrays that Python may change without touching the curve.
Eigen::VectorXd to_vector(const std::vector<double>& numbers) {
    return Eigen::Map<const Eigen::VectorXd>(numbers.data(),
                                             static_cast<Eigen::Index>(numbers.size()));
}

std::string text_of(const Line& line) {
    return py::str("Line(start=({!r}, {!r}), end=({!r}, {!r}))")
        .format(line.start.x(), line.start.y(), line.end.x(), line.end.y());
}

std::string text_of(const Arc& arc) {
    return py::str("Arc(center=({!r}, {!r}), radius={!r}, start_angle={!r}, sweep={!r})")
        .format(arc.center.x(), arc.center.y(), arc.radius, arc.start_angle, arc.sweep);
}

std::string text_of(const EllipticalArc& arc) {
    return py::
        str("EllipticalArc(center=({!r}, {!r}), major=({!r}, {!r}), ratio={!r}, start_angle={!r}, "
            "sweep={!r})")
            .format(arc.center.x(), arc.center.y(), arc.major.x(), arc.major.y(), arc.ratio,
                    arc.start_angle, arc.sweep);
}

std::string text_of(const Spline& spline) {
    return py::str("Spline(degree={}, knots=<{} numbers>, poles=<{} points>, weights={})")
        .format(spline.degree, spline.knots.size(), spline.poles.size(),
                spline.weights.empty() ? py::object(py::none())
                                       : py::str("<{} numbers>").format(spline.weights.size()));
}

/// What every kind of curve can do.
template <class Kind>
void add_common(py::class_<Kind>& type) {
    type.def_property_readonly(
            "domain",
            [](const Kind& curve) {
                const Interval interval = domain(curve);
                return std::pair(interval.first, interval.last);
            },
            "Parameter interval ``(first, last)``, no unit: (0, 1) except for splines (the knots).")
        .def_property_readonly(
            "start", [](const Kind& curve) { return start_point(curve); },
            "First point in mm, array of shape (2,).")
        .def_property_readonly(
            "end", [](const Kind& curve) { return end_point(curve); },
            "Last point in mm, array of shape (2,).")
        .def_property_readonly(
            "length", [](const Kind& curve) { return length(curve); },
            "Arc length in mm: closed form for lines and arcs, else to 1e-12 relative.")
        .def_property_readonly(
            "bounds", [](const Kind& curve) { return to_array(bounds(curve)); },
            "Tight box in mm, array of shape (2, 2): lower left corner, upper right corner.")
        .def(
            "point_at", [](const Kind& curve, double t) { return point_at(curve, finite(t, "t")); },
            py::arg("t"), R"(Position at a parameter.

Parameters
----------
t : float
    Parameter within `domain`, no unit; a GeometryError is raised if it is not finite.

Returns
-------
numpy.ndarray
    The point in mm, shape (2,).
)")
        .def(
            "derivative_at",
            [](const Kind& curve, double t) { return derivative_at(curve, finite(t, "t")); },
            py::arg("t"), R"(First derivative with respect to the parameter.

Parameters
----------
t : float
    Parameter within `domain`, no unit; a GeometryError is raised if it is not finite.

Returns
-------
numpy.ndarray
    The derivative in mm per unit of the parameter, shape (2,).
)")
        .def(
            "points",
            [](const Kind& curve, double tolerance) { return to_array(points(curve, tolerance)); },
            py::arg("tolerance"), R"(Vertices of a polyline near the curve, both ends included.

Parameters
----------
tolerance : float
    Bound in mm on the distance between polyline and curve.

Returns
-------
numpy.ndarray
    The points in mm, shape (n, 2).

Raises
------
GeometryError
    If `tolerance` is not a positive finite number.
)")
        .def(
            "fit_arcs",
            [](const Kind& curve, double tolerance) { return fit_arcs(curve, tolerance); },
            py::arg("tolerance"),
            R"(Lines and circular arcs near the curve, joined with continuous tangent.

First start and last end are those of the curve; lines and arcs come back as they are.
Source: D. S. Meek, D. J. Walton, "Approximating smooth planar curves by arc splines",
J. Comput. Appl. Math. 59 (1995).

Parameters
----------
tolerance : float
    Bound in mm on the distance to the curve.

Returns
-------
list of Line or Arc
    The pieces, head to tail.

Raises
------
GeometryError
    If `tolerance` is not a positive finite number.
)")
        .def(
            "reversed", [](const Kind& curve) { return std::get<Kind>(reversed(Curve(curve))); },
            "The same points in the other direction.")
        .def(
            "transformed",
            [](const Kind& curve, const Eigen::MatrixXd& matrix) {
                return transformed(curve, to_transform(matrix));
            },
            py::arg("matrix"), R"(Image under an affine map.

Parameters
----------
matrix : array_like
    Shape (2, 3), or (3, 3) with the last row 0 0 1; the last column is the shift in mm.

Returns
-------
Line, Arc, EllipticalArc or Spline
    Similarities keep the kind; others turn an arc into an elliptical arc.

Raises
------
GeometryError
    For a matrix of another shape, numbers that are not finite, or a map that folds the curve.
)")
        .def("__repr__", [](const Kind& curve) { return text_of(curve); });
}

constexpr const char* line_doc = R"(A straight piece: point(t) = start + t (end - start).

Parameters
----------
start, end : array_like
    Ends in mm, shape (2,).

Raises
------
GeometryError
    If a number is not finite.

Examples
--------
>>> import planform
>>> planform.Line((0, 0), (3, 4)).length
5.0
)";

void add_members(py::class_<Line>& type) {
    type.def(py::init([](const Point2& start, const Point2& end) {
                 const Line line{start, end};
                 check_curve(line);
                 return line;
             }),
             py::arg("start"), py::arg("end"));
    add_common(type);
}

constexpr const char* arc_doc =
    R"(A circular arc: center + radius (cos a, sin a), a = start_angle + t sweep.

Parameters
----------
center : array_like
    Centre in mm, shape (2,).
radius : float
    In mm.
start_angle : float
    Angle of the start in radians, counter-clockwise from x.
sweep : float
    Signed angle of the arc in radians, positive counter-clockwise; 2 pi is a full circle.

Raises
------
GeometryError
    If a number is not finite, the radius not positive, or the sweep zero or above 2 pi.

Examples
--------
>>> import math, planform
>>> planform.Arc((0, 0), radius=2, start_angle=0, sweep=math.pi).length == 2 * math.pi
True
)";

void add_members(py::class_<Arc>& type) {
    type.def(py::init([](const Point2& center, double radius, double start_angle, double sweep) {
                 Arc arc{center, radius, start_angle, sweep};
                 check_curve(arc);
                 return arc;
             }),
             py::arg("center"), py::arg("radius"), py::arg("start_angle") = 0.0,
             py::arg("sweep") = 2.0 * pi);
    type.def_property_readonly(
            "center", [](const Arc& arc) { return arc.center; }, "Centre in mm, shape (2,).")
        .def_readonly("radius", &Arc::radius, "Radius in mm.")
        .def_readonly("start_angle", &Arc::start_angle, "Angle of the start in radians.")
        .def_readonly("sweep", &Arc::sweep,
                      "Signed angle of the arc in radians, positive counter-clockwise.");
    add_common(type);
}

constexpr const char* elliptical_arc_doc =
    R"(An elliptical arc: center + major cos a + minor sin a, a = start_angle + t sweep.

The minor half-axis is `ratio` times `major` turned by +90 degrees. Angles are those of the
parameter (eccentric anomaly), not polar angles.

Parameters
----------
center : array_like
    Centre in mm, shape (2,).
major : array_like
    Major half-axis in mm, shape (2,).
ratio : float
    Minor over major half-axis, no unit, above 0 and at most 1.
start_angle, sweep : float
    In radians, as for `Arc`.

Raises
------
GeometryError
    If a number is not finite or outside its range.

Examples
--------
>>> import planform
>>> planform.EllipticalArc((0, 0), major=(2, 0), ratio=0.5).bounds.tolist()
[[-2.0, -1.0], [2.0, 1.0]]
)";

void add_members(py::class_<EllipticalArc>& type) {
    type.def(py::init([](const Point2& center, const Vector2& major, double ratio,
                         double start_angle, double sweep) {
                 EllipticalArc arc{center, major, ratio, start_angle, sweep};
                 check_curve(arc);
                 return arc;
             }),
             py::arg("center"), py::arg("major"), py::arg("ratio"), py::arg("start_angle") = 0.0,
             py::arg("sweep") = 2.0 * pi);
    type.def_property_readonly(
            "center", [](const EllipticalArc& arc) { return arc.center; },
            "Centre in mm, shape (2,).")
        .def_property_readonly(
            "major", [](const EllipticalArc& arc) { return arc.major; },
            "Major half-axis in mm, shape (2,).")
        .def_readonly("ratio", &EllipticalArc::ratio, "Minor over major half-axis, no unit.")
        .def_readonly("start_angle", &EllipticalArc::start_angle,
                      "Parametric angle of the start in radians.")
        .def_readonly("sweep", &EllipticalArc::sweep,
                      "Signed parametric angle in radians, positive counter-clockwise.");
    add_common(type);
}

constexpr const char* spline_doc = R"(A clamped B-spline, rational if it has weights.

Parameters
----------
degree : int
    1 or more.
knots : sequence of float
    Not decreasing, no unit; as many as poles + degree + 1, the first and the last degree + 1 times.
poles : array_like
    Control points in mm, shape (n, 2).
weights : sequence of float, optional
    One weight above 0 a pole, no unit; empty for a polynomial spline.

Raises
------
GeometryError
    If the numbers don't fit together or are not finite.

Examples
--------
>>> import planform
>>> parabola = planform.Spline(2, [0, 0, 0, 1, 1, 1], [(0, 0), (1, 2), (2, 0)])
>>> parabola.point_at(0.5).tolist()
[1.0, 1.0]
)";

void add_members(py::class_<Spline>& type) {
    type.def(py::init([](int degree, std::vector<double> knots, const Points2& poles,
                         std::vector<double> weights) {
                 Spline spline{degree, std::move(knots), {}, std::move(weights)};
                 for (const auto& pole : poles.rowwise()) spline.poles.push_back(pole.transpose());
                 check_curve(spline);
                 return spline;
             }),
             py::arg("degree"), py::arg("knots"), py::arg("poles"),
             py::arg("weights") = std::vector<double>());
    type.def_readonly("degree", &Spline::degree, "Polynomial degree, no unit.")
        .def_property_readonly(
            "knots", [](const Spline& spline) { return to_vector(spline.knots); },
            "Knots, no unit, shape (n + degree + 1,).")
        .def_property_readonly(
            "poles", [](const Spline& spline) { return to_array(spline.poles); },
            "Control points in mm, shape (n, 2).")
        .def_property_readonly(
            "weights", [](const Spline& spline) { return to_vector(spline.weights); },
            "Weights of the poles, no unit, shape (n,); shape (0,) for a polynomial spline.");
    add_common(type);
}

}  // namespace

void bind_curve(py::module_& module) {
    // All kinds are declared before any member is, so that signatures can name them.
    py::class_<Line> line(module, "Line", line_doc);
    py::class_<Arc> arc(module, "Arc", arc_doc);
    py::class_<EllipticalArc> elliptical_arc(module, "EllipticalArc", elliptical_arc_doc);
    py::class_<Spline> spline(module, "Spline", spline_doc);
    add_members(line);
    add_members(arc);
    add_members(elliptical_arc);
    add_members(spline);
}

}  // namespace planform::python
