#include "datum_like.hpp"

namespace planform::python {

namespace {

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
            "transformed",
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
>>> profiles.transformed([[1, 0, 5], [0, 1, 0]]).bounds.tolist()
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
>>> turned = plate.transformed([[0.6, -0.8, 7], [0.8, 0.6, 9]])
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

}  // namespace

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

}  // namespace planform::python
