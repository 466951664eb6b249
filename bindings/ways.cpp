/// Ways of the tool without a plan: an order of stops, the time that a move or a path takes.

#include "binding.hpp"

namespace planform::python {

namespace {

/// Start, end, index of the stop that it lies within.
using StopTuple = std::tuple<Point2, Point2, int>;

std::vector<Stop> to_stops(const std::vector<StopTuple>& tuples) {
    std::vector<Stop> stops;
    stops.reserve(tuples.size());
    for (const auto& [start, end, within] : tuples) stops.push_back({start, end, within});
    return stops;
}

}  // namespace

Motion motion_of(double speed, std::optional<double> acceleration) {
    Motion motion;
    motion.speed = finite(speed, "speed");
    if (acceleration) motion.acceleration = finite(*acceleration, "acceleration");
    return motion;
}

void bind_ways(py::module_& module) {
    module.def(
        "shortest_order",
        [](const std::vector<StopTuple>& stops, const Point2& home) {
            return shortest_order(to_stops(stops), home);
        },
        py::arg("stops"), py::arg("home") = py::make_tuple(0.0, 0.0), without_gil(),
        R"(An order with little travel in which no stop comes after the one that it lies within.

Parameters
----------
stops : list of ((float, float), (float, float), int)
    Start, end (mm), and the index of a stop that has to come later, or -1.
home : (float, float), optional
    Where the way begins, mm.

Returns
-------
list of int
    Indices of the stops.

Raises
------
GeometryError
    If an index is none, or stops lie within each other in a circle.

Examples
--------
>>> import planform
>>> planform.shortest_order([((0, 0), (0, 0), 1), ((1, 0), (1, 0), -1), ((-5, 0), (-5, 0), -1)], (9, 0))
[0, 1, 2]
)");
    module.def(
        "move_time",
        [](double length, double speed, std::optional<double> acceleration, double start,
           double end) { return move_time(length, motion_of(speed, acceleration), start, end); },
        py::arg("length"), py::arg("speed"), py::arg("acceleration") = py::none(), py::kw_only(),
        py::arg("start") = 0.0, py::arg("end") = 0.0,
        R"(Seconds for a straight way: the closed form of the trapezoid of speed over time.

Parameters
----------
length : float
    mm.
speed : float
    Greatest speed, mm/s.
acceleration : float, optional
    mm/s²; None: the speed is had at once.
start, end : float, optional
    Speeds at the ends, mm/s.

Returns
-------
float
    s.

Raises
------
GeometryError
    For numbers out of range, or a way too short for the change of speed.

Examples
--------
>>> import planform
>>> planform.move_time(100.0, 20.0), round(planform.move_time(100.0, 20.0, 200.0), 9)
(5.0, 5.1)
)");
    module.def(
        "path_time",
        [](const std::vector<Curve>& curves, double speed, std::optional<double> acceleration,
           double tolerance) {
            for (const Curve& curve : curves) check_curve(curve);
            return path_time(curves, motion_of(speed, acceleration), tolerance);
        },
        py::arg("curves"), py::arg("speed"), py::arg("acceleration") = py::none(), py::kw_only(),
        py::arg("tolerance") = default_tolerance,
        R"(Seconds for curves head to tail, from rest to rest; see `CutPlan.times`.

Parameters
----------
curves : list of curves
    mm.
speed : float
    mm/s.
acceleration : float, optional
    mm/s²; None: speeds are had at once.
tolerance : float, optional
    mm within which arcs stand for ellipses and splines.

Returns
-------
float
    s.

Raises
------
GeometryError
    For numbers that are not above 0.

Examples
--------
>>> import planform
>>> way = [planform.Line((0, 0), (60, 0)), planform.Line((60, 0), (60, 40))]
>>> planform.path_time(way, 20.0), round(planform.path_time(way, 20.0, 200.0), 9)
(5.0, 5.2)
)");
}

}  // namespace planform::python
