#include "binding.hpp"

namespace planform::python {

namespace {

void bind_provenance(py::module_& module) {
    py::class_<Provenance>(module, "Provenance", R"(Where a curve of an outline came from.

Parameters
----------
kind : {'unknown', 'edge', 'fold', 'section'}
    An edge of the solid, a fold of a face (where it turns away from the viewer), or the cut of a
    face with the section plane.
solid : int
    Index into the solids that were flattened, -1 if unknown.
entity : int
    Number of the edge or face in the solid, from 1; 0 if unknown.

Raises
------
GeometryError
    If `kind` is not one of the words above.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> outline = planform.silhouette(station[1], "auto")
>>> origin = outline[0].outer.provenance[0]
>>> origin.kind, origin.solid
('edge', 0)
)")
        .def(py::init([](Provenance::Kind kind, int solid, int entity) {
                 return Provenance{kind, solid, entity};
             }),
             py::arg("kind") = Provenance::Kind::unknown, py::arg("solid") = -1,
             py::arg("entity") = 0)
        .def_property_readonly(
            "kind", [](const Provenance& provenance) { return provenance.kind; },
            "'unknown', 'edge', 'fold' or 'section'.")
        .def_readonly("solid", &Provenance::solid, "Index of the solid, -1 if unknown.")
        .def_readonly("entity", &Provenance::entity, "Number of the edge or face, 0 if unknown.")
        .def("__repr__", [](const Provenance& provenance) {
            return std::string(
                py::str("Provenance(kind={!r}, solid={}, entity={})")
                    .format(word_of(provenance.kind), provenance.solid, provenance.entity));
        });
}

void bind_contour(py::module_& module) {
    py::class_<Contour>(module, "Contour", R"(A closed chain of curves, closed from construction on.

Parameters
----------
curves : sequence of Line, Arc, EllipticalArc or Spline
    Each starts where the one before ends, the last ends where the first starts; gaps of up to
    1e-6 times the contour's size are rounding.
provenance : sequence of Provenance, optional
    One entry a curve, or none.
validate : bool, optional
    Whether area and self-crossings are looked at; False is for curves that are known to be sound, such
    as those of another contour that were moved.

Raises
------
GeometryError
    With the place and size of the gap if two neighbours don't meet; if there is no curve or a
    number is not finite; with the place if the contour crosses itself (it may touch itself), or if it
    encloses no area.

Examples
--------
>>> import planform
>>> corners = [(0, 0), (4, 0), (0, 3)]
>>> contour = planform.Contour(
...     [planform.Line(a, b) for a, b in zip(corners, corners[1:] + corners[:1])])
>>> contour.area, contour.length
(6.0, 12.0)
)")
        .def(py::init(
                 [](std::vector<Curve> curves, std::vector<Provenance> provenance, bool validate) {
                     return Contour(std::move(curves), std::move(provenance), validation(validate));
                 }),
             py::arg("curves"), py::arg("provenance") = std::vector<Provenance>(), py::kw_only(),
             py::arg("validate") = true, without_gil())
        .def_property_readonly(
            "area", &Contour::area,
            "Signed area in mm^2, positive if counter-clockwise (Green's theorem on "
            "the exact curves).")
        .def_property_readonly("length", unlocked(&Contour::length), "Length in mm.")
        .def_property_readonly(
            "bounds",
            [](const Contour& contour) { return to_array(unlocked(&Contour::bounds)(contour)); },
            "Tight box in mm, array of shape (2, 2): lower left corner, upper right corner.")
        .def_property_readonly(
            "is_circle", unlocked(&Contour::is_circle),
            "True if all curves lie on one circle that the contour goes round once.")
        .def(
            "points",
            [](const Contour& contour, double tolerance) {
                std::vector<Point2> points;
                {
                    const py::gil_scoped_release released;
                    points = contour.points(tolerance);
                }
                return to_array(points);
            },
            py::arg("tolerance"),
            R"(Vertices of a polyline near the contour, first point not repeated.

Parameters
----------
tolerance : float
    Bound in mm on the distance between polyline and contour.

Returns
-------
numpy.ndarray
    The points in mm, shape (n, 2).

Raises
------
GeometryError
    If `tolerance` is not a positive finite number.
)")
        .def("reversed", &Contour::reversed, without_gil(),
             "The same contour, gone round the other way.")
        .def(
            "transformed",
            [](const Contour& contour, const Eigen::MatrixXd& matrix) {
                return contour.transformed(to_transform(matrix));
            },
            py::arg("matrix"), without_gil(),
            R"(Image under an affine map; the sign of the area is kept.

Parameters
----------
matrix : array_like
    Shape (2, 3), or (3, 3) with the last row 0 0 1; the last column is the shift in mm.

Returns
-------
Contour

Raises
------
GeometryError
    For a matrix of another shape, numbers that are not finite, or a map that flattens the contour.
)")
        .def("__repr__", [](const Contour& contour) {
            return std::string(
                py::str("Contour(<{} curves>, area={!r}, length={!r})")
                    .format(contour.curves().size(), contour.area(), contour.length()));
        });
}

void bind_profile_class(py::module_& module) {
    py::class_<Profile>(module, "Profile",
                        R"(One outer contour (counter-clockwise) with its holes (clockwise).

Parameters
----------
outer : Contour
holes : sequence of Contour, optional
    Both are turned to the right direction.
name : str, optional
    Of the solid that the outer contour comes from.
parent : int, optional
    Index in the profile set of the profile in whose hole this one lies (an island); -1 for none.
validate : bool, optional
    Whether the holes are proven to lie inside the outer contour and beside each other.

Raises
------
GeometryError
    With the number of the hole and the place, if a hole reaches outside the outer contour or overlaps
    another; they may touch.

Examples
--------
>>> import planform
>>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
>>> sides = zip(corners, corners[1:] + corners[:1])
>>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
>>> perch = planform.Contour([planform.Arc((30, 20), 5)])
>>> front = planform.Profile(edge, [perch], name="front")
>>> round(front.area, 3), front.holes[0].is_circle
(2321.46, True)
)")
        .def(py::init([](Contour outer, std::vector<Contour> holes, std::string name, int parent,
                         bool validate) {
                 return Profile(std::move(outer), std::move(holes), std::move(name), parent,
                                validation(validate));
             }),
             py::arg("outer"), py::arg("holes") = std::vector<Contour>(),
             py::arg("name") = std::string(), py::arg("parent") = -1, py::kw_only(),
             py::arg("validate") = true, without_gil())
        .def_property_readonly("outer", &Profile::outer, "The outer contour, counter-clockwise.")
        .def_property_readonly(
            "name", [](const Profile& profile) { return to_str(profile.name()); },
            "Name of the solid (or of the profile, after a boolean) that the outer contour comes "
            "from; empty if there are several.")
        .def_property_readonly("parent", &Profile::parent,
                               "Index of the profile in whose hole this one lies, -1 for none.")
        .def_property_readonly("is_island", &Profile::is_island,
                               "True if the profile lies in a hole of another.")
        .def_property_readonly("area", &Profile::area, "Area in mm^2, holes taken off.")
        .def_property_readonly("length", unlocked(&Profile::length),
                               "Length of all its contours in mm.")
        .def_property_readonly(
            "bounds",
            [](const Profile& profile) { return to_array(unlocked(&Profile::bounds)(profile)); },
            "Tight box in mm, array of shape (2, 2): lower left corner, upper right corner.")
        .def("__repr__", [](const Profile& profile) {
            return std::string(py::str("Profile(name={!r}, holes={}, area={!r}, length={!r})")
                                   .format(to_str(profile.name()), profile.holes().size(),
                                           profile.area(), profile.length()));
        });
}

void bind_mark(py::module_& module) {
    py::class_<Mark>(
        module, "Mark",
        R"(A chain of curves that is scored or engraved, not cut through: a closed contour, or open.

Parameters
----------
contour : Contour
name : str, optional
depth : float, optional
    How deep what the mark bounds lies below the side that is marked, mm; negative for what stands above it; 0
    for a line on the surface, or where nobody knows.

Raises
------
GeometryError
    For a depth that is not finite.

Examples
--------
>>> import planform
>>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
>>> sides = zip(corners, corners[1:] + corners[:1])
>>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
>>> bowl = planform.Mark(planform.Contour([planform.Arc((20, 20), 8)]), "bowl", depth=2)
>>> fold = planform.Mark.open([planform.Line((40, 0), (40, 40))], "fold")
>>> tray = planform.ProfileSet([planform.Profile(edge)], [bowl, fold], name="tray")
>>> [(mark.name, mark.depth, round(mark.length, 3)) for mark in tray.marks]
[('bowl', 2.0, 50.265), ('fold', 0.0, 40.0)]
)")
        .def(py::init<Contour, std::string, double>(), py::arg("contour"),
             py::arg("name") = std::string(), py::arg("depth") = 0.0)
        .def_static("open", &Mark::open, py::arg("curves"), py::arg("name") = std::string(),
                    py::arg("depth") = 0.0, R"(An open chain as a mark.

Parameters
----------
curves : sequence of Curve
    Each starts where the one before ends.
name : str, optional
depth : float, optional
    As above, mm.

Raises
------
GeometryError
    For no curve, or a gap; the message has the place.
)")
        .def_property_readonly("is_closed", &Mark::is_closed, "True if it is a contour.")
        .def_property_readonly(
            "contour",
            [](const Mark& mark) {
                return mark.is_closed() ? std::optional(mark.contour()) : std::nullopt;
            },
            "The contour to follow; None of an open mark.")
        .def_property_readonly(
            "name", [](const Mark& mark) { return to_str(mark.name()); }, "Free text.")
        .def_property_readonly("depth", &Mark::depth,
                               "How deep it reaches below the side that is marked, mm; negative "
                               "for what stands above it.")
        .def_property_readonly("length", &Mark::length, "Length of its curves, mm.")
        .def(
            "points",
            [](const Mark& mark, double tolerance) { return to_array(mark.points(tolerance)); },
            py::arg("tolerance") = default_tolerance,
            R"(Vertices of a polyline along the mark; of a contour the first is not repeated.

Parameters
----------
tolerance : float, optional
    Bound on the distance from the curves, mm.

Returns
-------
numpy.ndarray
    Shape (n, 2), mm.
)")
        .def("__repr__", [](const Mark& mark) {
            return std::string(
                py::str("Mark(name={!r}, length={!r})").format(to_str(mark.name()), mark.length()));
        });
}

}  // namespace

void bind_profile(py::module_& module) {
    bind_provenance(module);
    module.def("_fit_tolerance", &fit_tolerance, py::arg("tolerance"), py::arg("extent"),
               "The tolerance if it is fit for an extent, both in mm; raises GeometryError.");
    bind_contour(module);
    bind_profile_class(module);
    bind_mark(module);
    bind_profile_set(module);
}

}  // namespace planform::python
