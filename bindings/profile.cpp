#include "datum_like.hpp"

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
            "transform",
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

void add_set_values(py::class_<ProfileSet>& type) {
    type.def_property_readonly("datum", &ProfileSet::datum, "The plane of the outlines.")
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
        .def_property_readonly("length", unlocked(&ProfileSet::length),
                               "Length of all contours that are cut, in mm; marks don't count.")
        .def_property_readonly(
            "bounds",
            [](const ProfileSet& set) { return to_array(unlocked(&ProfileSet::bounds)(set)); },
            "Tight box of profiles and marks in mm, array of shape (2, 2): lower left corner, "
            "upper "
            "right corner; NaN for an empty set.")
        .def_property_readonly(
            "digest",
            [](const ProfileSet& set) {
                const py::gil_scoped_release released;
                return set.digest();
            },
            "32 hexadecimal digits for the geometry: independent of the order of profiles, start "
            "points and the splitting of lines and arcs; names, notes, datum and provenance don't "
            "count. Sets of which a corner, centre, radius or pole differs by 0.0071 mm (or a "
            "350th "
            "of their size, where that is less) always have different digests; rounding and "
            "motions "
            "there and back leave it as it is (1e-12 mm of noise flip it once in 200 million "
            "times, "
            "for ten coordinates). Between the two `==` tells.");
}

void add_set_operations(py::class_<ProfileSet>& type) {
    type.def(
            "transform",
            [](const ProfileSet& set, const Eigen::MatrixXd& matrix) {
                return set.transformed(to_transform(matrix));
            },
            py::arg("matrix"), without_gil(), R"(Image under an affine map of the plane.

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
        .def("normalized", &ProfileSet::normalized, without_gil(),
             R"(The set in a place of its own, the same wherever it lay before.

The centroid is the origin and the feature that is furthest from it (a corner, a centre, a pole) lies on
the x axis. So ``a.normalized().digest == b.normalized().digest`` asks whether two outlines are the same
but for a motion; mirror images are not.

Returns
-------
ProfileSet
    In mm.

Examples
--------
>>> import planform
>>> plate = planform.ProfileSet([planform.Profile(planform.Contour(
...     [planform.Line(a, b) for a, b in [((0, 0), (4, 0)), ((4, 0), (0, 3)), ((0, 3), (0, 0))]]))])
>>> turned = plate.transform([[0.6, -0.8, 7], [0.8, 0.6, 9]])
>>> plate.normalized().digest == turned.normalized().digest
True
)")
        .def("with_marks", &ProfileSet::with_marks, py::arg("marks"),
             R"(The same set with other marks in place of its own.

Parameters
----------
marks : sequence of Mark

Returns
-------
ProfileSet
)")
        .def("with_notes", &ProfileSet::with_notes, py::arg("notes"),
             R"(The same set with further notes.

Parameters
----------
notes : sequence of str

Returns
-------
ProfileSet
)")
        .def("turned_to_smallest_rectangle", &turned_to_smallest_rectangle, without_gil(),
             R"(The set turned in its plane so that the upright rectangle around it is smallest.

Its lower left corner goes into the origin (mm), and the datum turns along, so that every point keeps its place
in the model. A set that gains less than a millionth of the area (a circle) comes back as it is. An option of
drawings, never the default.

Returns
-------
ProfileSet

Examples
--------
>>> import math, planform
>>> bar = planform.ProfileSet([planform.Profile(planform.Contour(
...     [planform.Line((0, 0), (30, 40)), planform.Line((30, 40), (22, 46)),
...      planform.Line((22, 46), (-8, 6)), planform.Line((-8, 6), (0, 0))]))])
>>> bar.turned_to_smallest_rectangle().bounds.round(9).tolist()
[[0.0, 0.0], [10.0, 50.0]]
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
        .def("__eq__",
             [](const ProfileSet& set, const py::object& other) {
                 if (!py::isinstance<ProfileSet>(other)) return false;
                 const ProfileSet& second = other.cast<const ProfileSet&>();
                 const py::gil_scoped_release released;
                 return set == second;
             })
        // Equal sets may differ in every digit of their coordinates, so that only counts are left.
        .def("__hash__",
             [](const ProfileSet& set) {
                 std::size_t holes = 0;
                 for (const Profile& profile : set.profiles()) holes += profile.holes().size();
                 return py::hash(py::make_tuple(set.profiles().size(), holes, set.marks().size()));
             })
        .def("__repr__", [](const ProfileSet& set) {
            return std::string(
                py::str("ProfileSet(name={!r}, profiles={}, marks={}, area={!r}, length={!r})")
                    .format(to_str(set.name()), set.profiles().size(), set.marks().size(),
                            set.area(), set.length()));
        });
}

void bind_profile_set(py::module_& module) {
    py::class_<ProfileSet> type(module, "ProfileSet",
                                R"(All profiles of one flattening, with their datum.

Two sets are equal if all their numbers agree to 1e-6 mm, whatever the order of profiles, starts and
splitting.

Parameters
----------
profiles : sequence of Profile, optional
marks : sequence of Mark, optional
datum : Datum or {'xy', 'xz', 'yz'}, optional
    The plane of the outlines; without it the plane of x and y.
tolerance : float, optional
    Bound in mm on the distance between the true outline and this one.
name : str, optional
    Free text for titles.
notes : sequence of str, optional
validate : bool, optional
    Whether the tolerance is held against the extent of the profiles.

Raises
------
GeometryError
    If `tolerance` is not a positive finite number or more than a hundredth of the extent, or a parent is
    not a profile of the set.

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
                         const std::optional<PlaneLike>& datum, double tolerance, std::string name,
                         std::vector<std::string> notes, bool validate) {
                 return ProfileSet(std::move(profiles), std::move(marks),
                                   datum ? datum->datum : Datum::xy(), tolerance, std::move(name),
                                   std::move(notes), validation(validate));
             }),
             py::arg("profiles") = std::vector<Profile>(), py::arg("marks") = std::vector<Mark>(),
             py::arg("datum") = py::none(), py::arg("tolerance") = 0.01,
             py::arg("name") = std::string(), py::arg("notes") = std::vector<std::string>(),
             py::kw_only(), py::arg("validate") = true, without_gil());
    add_set_values(type);
    add_set_operations(type);
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
