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

Raises
------
GeometryError
    With the place and size of the gap if two neighbours don't meet; if there is no curve or a
    number is not finite.

Examples
--------
>>> import planform
>>> corners = [(0, 0), (4, 0), (0, 3)]
>>> contour = planform.Contour(
...     [planform.Line(a, b) for a, b in zip(corners, corners[1:] + corners[:1])])
>>> contour.area, contour.length
(6.0, 12.0)
)")
        .def(py::init([](std::vector<Curve> curves, std::vector<Provenance> provenance) {
                 for (const Curve& curve : curves) check_curve(curve);
                 return Contour(std::move(curves), std::move(provenance));
             }),
             py::arg("curves"), py::arg("provenance") = std::vector<Provenance>())
        .def_property_readonly("curves", &Contour::curves, "The curves, head to tail.")
        .def_property_readonly("provenance", &Contour::provenance,
                               "Where each curve came from; empty if unknown.")
        .def_property_readonly(
            "area", &Contour::area,
            "Signed area in mm^2, positive if counter-clockwise (Green's theorem on "
            "the exact curves).")
        .def_property_readonly("length", &Contour::length, "Length in mm.")
        .def_property_readonly(
            "bounds", [](const Contour& contour) { return to_array(contour.bounds()); },
            "Tight box in mm, array of shape (2, 2): lower left corner, upper right corner.")
        .def_property_readonly(
            "is_circle", &Contour::is_circle,
            "True if all curves lie on one circle that the contour goes round once.")
        .def(
            "points",
            [](const Contour& contour, double tolerance) {
                return to_array(contour.points(tolerance));
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
        .def("reversed", &Contour::reversed, "The same contour, gone round the other way.")
        .def(
            "transform",
            [](const Contour& contour, const Eigen::MatrixXd& matrix) {
                return contour.transformed(to_transform(matrix));
            },
            py::arg("matrix"), R"(Image under an affine map; the sign of the area is kept.

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
        .def("__len__", [](const Contour& contour) { return contour.curves().size(); })
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

Raises
------
GeometryError
    If the outer contour encloses no area.
)")
        .def(py::init<Contour, std::vector<Contour>, std::string, int>(), py::arg("outer"),
             py::arg("holes") = std::vector<Contour>(), py::arg("name") = std::string(),
             py::arg("parent") = -1)
        .def_property_readonly("outer", &Profile::outer, "The outer contour, counter-clockwise.")
        .def_property_readonly("holes", &Profile::holes, "The contours of the holes, clockwise.")
        .def_property_readonly(
            "name", [](const Profile& profile) { return to_str(profile.name()); },
            "Name of the solid (or of the profile, after a boolean) that the outer contour comes "
            "from; empty if there are several.")
        .def_property_readonly("parent", &Profile::parent,
                               "Index of the profile in whose hole this one lies, -1 for none.")
        .def_property_readonly("is_island", &Profile::is_island,
                               "True if the profile lies in a hole of another.")
        .def_property_readonly("area", &Profile::area, "Area in mm^2, holes taken off.")
        .def_property_readonly("length", &Profile::length, "Length of all its contours in mm.")
        .def_property_readonly(
            "bounds", [](const Profile& profile) { return to_array(profile.bounds()); },
            "Tight box in mm, array of shape (2, 2): lower left corner, upper right corner.")
        .def("__repr__", [](const Profile& profile) {
            return std::string(py::str("Profile(name={!r}, holes={}, area={!r}, length={!r})")
                                   .format(to_str(profile.name()), profile.holes().size(),
                                           profile.area(), profile.length()));
        });
}

void bind_mark(py::module_& module) {
    py::class_<Mark>(module, "Mark", R"(A contour that is scored or engraved, not cut through.

Parameters
----------
contour : Contour
name : str, optional
)")
        .def(py::init([](Contour contour, std::string name) {
                 return Mark{std::move(contour), std::move(name)};
             }),
             py::arg("contour"), py::arg("name") = std::string())
        .def_readonly("contour", &Mark::contour, "The contour to follow.")
        .def_property_readonly(
            "name", [](const Mark& mark) { return to_str(mark.name); }, "Free text.")
        .def("__repr__", [](const Mark& mark) {
            return std::string(py::str("Mark(name={!r}, length={!r})")
                                   .format(to_str(mark.name), mark.contour.length()));
        });
}

void add_set_values(py::class_<ProfileSet>& type) {
    type.def_property_readonly("profiles", &ProfileSet::profiles, "The profiles.")
        .def_property_readonly("marks", &ProfileSet::marks,
                               "Contours that are scored, not cut through.")
        .def_property_readonly("datum", &ProfileSet::datum, "The plane of the outlines.")
        .def_property_readonly("tolerance", &ProfileSet::tolerance,
                               "Bound in mm on the distance between the true outline and this one.")
        .def_property_readonly(
            "name", [](const ProfileSet& set) { return to_str(set.name()); },
            "Free text for titles.")
        .def_property_readonly(
            "notes", [](const ProfileSet& set) { return to_strs(set.notes()); },
            "What a person should know about how the result was made, one sentence each.")
        .def_property_readonly("proof", &ProfileSet::proof,
                               "Laws that a flattening was held against before it was handed out; "
                               "empty for sets that come from elsewhere.")
        .def_property_readonly("area", &ProfileSet::area, "Area of all profiles in mm^2.")
        .def_property_readonly("length", &ProfileSet::length,
                               "Length of all contours that are cut, in mm; marks don't count.")
        .def_property_readonly(
            "bounds", [](const ProfileSet& set) { return to_array(set.bounds()); },
            "Tight box of profiles and marks in mm, array of shape (2, 2): lower left corner, "
            "upper "
            "right corner; NaN for an empty set.")
        .def_property_readonly("digest", &ProfileSet::digest,
                               "32 hexadecimal digits that change when, and only when, the "
                               "geometry does: independent of "
                               "the order of profiles, start points and the splitting of lines and "
                               "arcs; coordinates count "
                               "to 1e-6 mm; names, notes, datum and provenance don't count.");
}

void add_set_operations(py::class_<ProfileSet>& type) {
    type.def(
            "transform",
            [](const ProfileSet& set, const Eigen::MatrixXd& matrix) {
                return set.transformed(to_transform(matrix));
            },
            py::arg("matrix"), R"(Image under an affine map of the plane.

Parameters
----------
matrix : array_like
    Shape (2, 3), or (3, 3) with the last row 0 0 1; the last column is the shift in mm.

Returns
-------
ProfileSet

Raises
------
GeometryError
    For a matrix of another shape, numbers that are not finite, or a map that flattens the plane.

Examples
--------
>>> import planform
>>> disc = planform.Contour([planform.Arc((0, 0), radius=1)])
>>> profiles = planform.ProfileSet([planform.Profile(disc)])
>>> profiles.transform([[1, 0, 5], [0, 1, 0]]).bounds.tolist()
[[4.0, -1.0], [6.0, 1.0]]
)")
        .def("with_name", &ProfileSet::with_name, py::arg("name"),
             R"(The same set under another name.

Parameters
----------
name : str
    Free text for titles.

Returns
-------
ProfileSet
)")
        .def("__len__", [](const ProfileSet& set) { return set.profiles().size(); })
        .def(
            "__iter__",
            [](const ProfileSet& set) {
                return py::make_iterator(set.profiles().begin(), set.profiles().end());
            },
            py::keep_alive<0, 1>())
        .def("__eq__",
             [](const ProfileSet& set, const py::object& other) {
                 return py::isinstance<ProfileSet>(other) &&
                        set.digest() == other.cast<const ProfileSet&>().digest();
             })
        .def("__hash__", [](const ProfileSet& set) { return py::hash(py::str(set.digest())); })
        .def("__repr__", [](const ProfileSet& set) {
            return std::string(
                py::str("ProfileSet(name={!r}, profiles={}, marks={}, area={!r}, length={!r})")
                    .format(to_str(set.name()), set.profiles().size(), set.marks().size(),
                            set.area(), set.length()));
        });
}

void bind_profile_set(py::module_& module) {
    py::class_<ProfileSet> type(
        module, "ProfileSet",
        R"(All profiles of one flattening, with their datum. Two sets are equal if their digests are.

Parameters
----------
profiles : sequence of Profile, optional
marks : sequence of Mark, optional
datum : Datum, optional
    The plane of the outlines; without it the plane of x and y.
tolerance : float, optional
    Bound in mm on the distance between the true outline and this one.
name : str, optional
    Free text for titles.
notes : sequence of str, optional

Raises
------
GeometryError
    If `tolerance` is not a positive finite number or a parent is not a profile of the set.

Examples
--------
>>> import planform
>>> disc = planform.Contour([planform.Arc((0, 0), radius=10)])
>>> hole = planform.Contour([planform.Arc((0, 0), radius=6)])
>>> ring = planform.ProfileSet([planform.Profile(disc, [hole])], name="ring")
>>> round(ring.area, 6), round(ring.length, 6)
(201.06193, 100.530965)
)");
    type.def(py::init([](std::vector<Profile> profiles, std::vector<Mark> marks,
                         const std::optional<Datum>& datum, double tolerance, std::string name,
                         std::vector<std::string> notes) {
                 return ProfileSet(std::move(profiles), std::move(marks),
                                   datum.value_or(Datum::xy()), tolerance, std::move(name),
                                   std::move(notes));
             }),
             py::arg("profiles") = std::vector<Profile>(), py::arg("marks") = std::vector<Mark>(),
             py::arg("datum") = py::none(), py::arg("tolerance") = 0.01,
             py::arg("name") = std::string(), py::arg("notes") = std::vector<std::string>());
    add_set_values(type);
    add_set_operations(type);
}

}  // namespace

void bind_profile(py::module_& module) {
    bind_provenance(module);
    bind_contour(module);
    bind_profile_class(module);
    bind_mark(module);
    bind_profile_set(module);
}

}  // namespace planform::python
