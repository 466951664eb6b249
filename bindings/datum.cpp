#include "binding.hpp"

namespace planform::python {

namespace {

void add_frame(py::class_<Datum>& type) {
    type.def_static("xy", &Datum::xy, "x = X, y = Y, normal = Z: seen from above.")
        .def_static("xz", &Datum::xz, "x = X, y = Z, normal = -Y: seen from the front.")
        .def_static("yz", &Datum::yz, "x = Y, y = Z, normal = X: seen from the right.")
        .def_property_readonly(
            "origin", [](const Datum& datum) { return datum.origin(); },
            "Origin in model coordinates, mm, shape (3,).")
        .def_property_readonly(
            "x", [](const Datum& datum) { return datum.x(); },
            "Direction of x, unit vector (no unit), shape (3,).")
        .def_property_readonly(
            "y", [](const Datum& datum) { return datum.y(); },
            "Direction of y, unit vector (no unit), shape (3,).")
        .def_property_readonly(
            "normal", [](const Datum& datum) { return datum.normal(); },
            "Direction towards the viewer, unit vector (no unit), shape (3,).");
}

using Array = py::array_t<double, py::array::c_style | py::array::forcecast>;

/// Applies `map` (a point with `columns` coordinates to a Point3) to one point or to each of many.
template <int columns, class Map>
Array mapped(const Array& points, Map map) {
    const bool one = points.ndim() == 1;
    const bool fits = (one || points.ndim() == 2) && points.shape(points.ndim() - 1) == columns;
    if (!fits) {
        throw py::type_error("points have the shape (" + std::to_string(columns) + ",) or (n, " +
                             std::to_string(columns) + ")");
    }
    const py::ssize_t count = one ? 1 : points.shape(0);
    Array result =
        one ? Array(std::vector<py::ssize_t>{3}) : Array(std::vector<py::ssize_t>{count, 3});
    for (py::ssize_t i = 0; i < count; ++i) {
        const Eigen::Map<const Eigen::Matrix<double, columns, 1>> point(points.data() +
                                                                        i * columns);
        Eigen::Map<Point3>(result.mutable_data() + i * 3) = map(point);
    }
    return result;
}

void add_coordinates(py::class_<Datum>& type) {
    type.def(
            "to_datum",
            [](const Datum& datum, const Array& points) {
                return mapped<3>(points,
                                 [&](const Point3& point) { return datum.to_datum(point); });
            },
            py::arg("points"), R"(Datum coordinates of points in model coordinates.

Parameters
----------
points : array_like
    In mm, shape (3,) or (n, 3).

Returns
-------
numpy.ndarray
    x, y and height above the plane in mm, same shape.

Raises
------
TypeError
    For points of another shape.

Examples
--------
>>> import planform
>>> planform.Datum.xz().to_datum([1, 2, 3]).tolist()
[1.0, 3.0, -2.0]
)")
        .def(
            "to_model",
            [](const Datum& datum, const Array& points, double height) {
                finite(height, "height");
                return mapped<2>(
                    points, [&](const Point2& point) { return datum.to_model(point, height); });
            },
            py::arg("points"), py::arg("height") = 0.0,
            R"(Model coordinates of points of the plane.

Parameters
----------
points : array_like
    x and y in mm, shape (2,) or (n, 2).
height : float, optional
    Distance in mm by which the points are lifted along the normal.

Returns
-------
numpy.ndarray
    In mm, shape (3,) or (n, 3).

Raises
------
TypeError
    For points of another shape.

Examples
--------
>>> import planform
>>> planform.Datum.xz().to_model([1, 3], height=-2).tolist()
[1.0, 2.0, 3.0]
)")
        .def("moved", &Datum::moved, py::arg("distance"), R"(The parallel plane.

Parameters
----------
distance : float
    Shift in mm along the normal.

Returns
-------
Datum

Raises
------
GeometryError
    If `distance` is not finite.
)");
}

}  // namespace

void bind_datum(py::module_& module) {
    py::class_<Datum> type(
        module, "Datum",
        R"(The plane that a solid is flattened onto: a right-handed orthonormal frame in model space.

Parameters
----------
origin : array_like
    In mm, shape (3,).
normal : array_like
    Any length above 0, shape (3,); points towards the viewer.
x : array_like, optional
    Direction of x, made perpendicular to the normal, shape (3,). Without it the model's X axis is used
    (Y where X is the normal's direction).

Raises
------
GeometryError
    For NaN or infinite numbers, a zero normal, or x parallel to it.

Examples
--------
>>> import planform
>>> planform.Datum(origin=(0, 0, 5), normal=(0, 0, 2)).normal.tolist()
[0.0, 0.0, 1.0]
)");
    type.def(py::init<const Point3&, const Vector3&, std::optional<Vector3>>(), py::arg("origin"),
             py::arg("normal"), py::arg("x") = py::none());
    add_frame(type);
    add_coordinates(type);
    type.def("__repr__", [](const Datum& datum) {
        const auto& [o, n, x] = std::tie(datum.origin(), datum.normal(), datum.x());
        return std::string(
            py::str("Datum(origin=({!r}, {!r}, {!r}), normal=({!r}, {!r}, {!r}), "
                    "x=({!r}, {!r}, {!r}))")
                .format(o.x(), o.y(), o.z(), n.x(), n.y(), n.z(), x.x(), x.y(), x.z()));
    });
}

}  // namespace planform::python
