#include <pybind11/numpy.h>

#include "binding.hpp"

namespace planform::python {

namespace {

using Places = py::array_t<double, py::array::c_style | py::array::forcecast>;

constexpr const char* points_doc = R"(

Parameters
----------
points : array_like
    x and y in mm, shape (..., 2).
)";

constexpr const char* contains_doc = R"(Is there material at the points?

The outline itself belongs to the material, within rounding (1e-14 of the coordinates, 1e-13 on splines). On
the exact curves. Marks don't count.
)";

constexpr const char* distance_doc = R"(How far the points are from the outline, inside or outside.

On the exact curves: those of all contours; marks don't count. In the material take it as negative where a
signed distance is wanted.
)";

std::vector<py::ssize_t> shape_of(const Places& points) {
    const py::ssize_t axes = points.ndim();
    if (axes < 1 || points.shape(axes - 1) != 2)
        throw py::type_error("points have the shape (..., 2)");
    return {points.shape(), points.shape() + axes - 1};
}

/// Squares of distances are compared: farther away (mm) they would overflow.
constexpr double furthest = 1e100;

/// One result a point; `ask(point, number)` is called without the interpreter's lock.
template <class Ask>
void for_each_point(const Places& points, Ask&& ask) {
    const py::ssize_t count = points.size() / 2;
    const double* at = points.data();
    py::ssize_t bad = -1;
    {
        const py::gil_scoped_release released;
        for (py::ssize_t i = 0; i < count && bad < 0; ++i, at += 2) {
            const Point2 point(at[0], at[1]);
            if (point.cwiseAbs().maxCoeff() <= furthest)
                ask(point, i);
            else
                bad = i;
        }
    }
    if (bad >= 0)
        throw GeometryError(
            ErrorKind::invalid_argument,
            "point " + std::to_string(bad) +
                " is not finite, or too far away; pass points of finite numbers up to 1e100 (mm)");
}

OutlineIndex index_of(const ProfileSet& set) {
    const py::gil_scoped_release released;
    return OutlineIndex(set);
}
const OutlineIndex& index_of(const OutlineIndex& index) { return index; }

template <class Outline>
py::array_t<bool> contains(const Outline& outline, const Places& points) {
    py::array_t<bool> result(shape_of(points));
    const OutlineIndex& index = index_of(outline);
    bool* out = result.mutable_data();
    for_each_point(points,
                   [&](const Point2& point, py::ssize_t i) { out[i] = index.contains(point); });
    return result;
}

template <class Outline>
py::array_t<double> distance(const Outline& outline, const Places& points) {
    py::array_t<double> result(shape_of(points));
    const OutlineIndex& index = index_of(outline);
    double* out = result.mutable_data();
    for_each_point(points,
                   [&](const Point2& point, py::ssize_t i) { out[i] = index.distance(point); });
    return result;
}

/// For `planform.queries`: distance, points, profile, contour, curve, parameter.
template <class Outline>
py::tuple nearest(const Outline& outline, const Places& points) {
    const std::vector<py::ssize_t> shape = shape_of(points);
    std::vector<py::ssize_t> shape_of_points = shape;
    shape_of_points.push_back(2);
    py::array_t<double> distances(shape), places(shape_of_points), parameters(shape);
    py::array_t<std::int64_t> profiles(shape), contours(shape), curves(shape);
    const OutlineIndex& index = index_of(outline);
    double *to_distance = distances.mutable_data(), *to_place = places.mutable_data(),
           *to_parameter = parameters.mutable_data();
    std::int64_t *to_profile = profiles.mutable_data(), *to_contour = contours.mutable_data(),
                 *to_curve = curves.mutable_data();
    for_each_point(points, [&](const Point2& point, py::ssize_t i) {
        const NearestPlace place = index.nearest(point);
        to_distance[i] = place.distance;
        to_place[2 * i] = place.point.x();
        to_place[2 * i + 1] = place.point.y();
        to_parameter[i] = place.parameter;
        to_profile[i] = place.profile;
        to_contour[i] = place.contour;
        to_curve[i] = place.curve;
    });
    return py::make_tuple(distances, places, profiles, contours, curves, parameters);
}

template <class Outline>
void add_places(py::class_<Outline>& type) {
    static const std::string contains_text = std::string(contains_doc) + points_doc + R"(
Returns
-------
numpy.ndarray
    Of bool, shape (...).

Raises
------
GeometryError
    For points that are not finite, or of another shape.

Examples
--------
>>> import planform
>>> disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), radius=10)]))])
>>> disc.contains([(0, 0), (9.999, 0), (10, 0), (7.08, 7.08)]).tolist()
[True, True, True, False]
)";
    static const std::string distance_text = std::string(distance_doc) + points_doc + R"(
Returns
-------
numpy.ndarray
    In mm, shape (...); infinite if there is no outline.

Raises
------
GeometryError
    For points that are not finite, or of another shape.

Examples
--------
>>> import planform
>>> disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), radius=10)]))])
>>> disc.distance([(0, 4), (0, 13)]).tolist()
[6.0, 3.0]
)";
    type.def("contains", &contains<Outline>, py::arg("points"), contains_text.c_str())
        .def("distance", &distance<Outline>, py::arg("points"), distance_text.c_str())
        .def("_nearest", &nearest<Outline>, py::arg("points"), "What `nearest` calls.");
}

void bind_index(py::module_& module) {
    py::class_<OutlineIndex> type(
        module, "OutlineIndex",
        R"(The contours of a set made ready for many questions about places.

A `ProfileSet` answers the same questions; it makes itself ready in each call. Ready once, many small calls
are quick.

Parameters
----------
profile_set : ProfileSet

Examples
--------
>>> import planform
>>> disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), radius=10)]))])
>>> index = planform.OutlineIndex(disc)
>>> bool(index.contains((3, 4))), float(index.distance((3, 4)))
(True, 5.0)
)");
    type.def(py::init<const ProfileSet&>(), py::arg("profile_set"), without_gil())
        .def_property_readonly("profile_set", &OutlineIndex::profile_set, "What it was made of.")
        .def("__repr__", [](const OutlineIndex& index) {
            return "OutlineIndex(" + std::string(py::repr(py::cast(index.profile_set()))) + ")";
        });
    add_places(type);
}

void add_shape(py::class_<ProfileSet>& type) {
    type.def_property_readonly(
            "centroid", [](const ProfileSet& set) { return area_moments(set).centroid; },
            "Centroid of the profiles' area, mm, shape (2,); not a number for an empty set.")
        .def_property_readonly(
            "area_moments", [](const ProfileSet& set) { return area_moments(set).second; },
            R"(Second moments of the profiles' area about its centroid, mm^4, shape (2, 2).

The integrals of x x, x y, y x, y y over the area, holes taken off. Green's theorem on the exact curves: lines in
closed form (C. Steger, "On the calculation of moments of polygons", report FGBV-96-04, Technische Universitaet
Muenchen, 1996), other curves by Gauss quadrature, to rounding. Not a number for an empty set.
)")
        .def("convex_hull", &convex_hull, without_gil(),
             R"(The smallest convex outline that holds all profiles.

Its curves are those of the outline where it is convex; within the set's tolerance.

Returns
-------
ProfileSet
    One profile without holes, mm, same datum, tolerance and name; empty for an empty set.

Examples
--------
>>> import planform
>>> discs = [planform.Profile(planform.Contour([planform.Arc((x, 0), radius=1)])) for x in (0, 10)]
>>> round(planform.ProfileSet(discs).convex_hull().area, 2)
23.14
)")
        .def_property_readonly(
            "smallest_rectangle",
            [](const ProfileSet& set) {
                const std::array<Point2, 4> corners = smallest_rectangle(set);
                return to_array(std::vector<Point2>(corners.begin(), corners.end()));
            },
            R"(The smallest rectangle around all profiles, turned as it may be: mm, shape (4, 2).

Its corners counter-clockwise, the longer side first; within the set's tolerance. Not a number for an empty set.
One of its sides lies along an edge of the convex hull (H. Freeman, R. Shapira, "Determining the minimum-area
encasing rectangle for an arbitrary closed curve", Comm. ACM 18, 1975).
)");
}

}  // namespace

void bind_queries(py::module_& module) {
    auto set = py::reinterpret_borrow<py::class_<ProfileSet>>(module.attr("ProfileSet"));
    add_places(set);
    add_shape(set);
    bind_index(module);
}

}  // namespace planform::python
