#include "datum_like.hpp"

namespace planform::python {

namespace {

using SetClass = py::class_<ProfileSet>;
using TwoPoints = Eigen::Matrix<double, 2, 2, Eigen::RowMajor>;

void add_motions(SetClass& type) {
    type.def("moved", &moved, py::arg("by"), without_gil(),
             R"(The set moved in its plane; marks follow, the datum stays.

Parameters
----------
by : array_like
    Along x and y in mm, shape (2,).

Returns
-------
ProfileSet

Raises
------
GeometryError
    For numbers that are not finite.

Examples
--------
>>> import planform
>>> disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), radius=1)]))])
>>> disc.moved((5, 0)).bounds.tolist()
[[4.0, -1.0], [6.0, 1.0]]
)")
        .def("rotated", &rotated, py::arg("angle"), py::arg("about") = py::make_tuple(0.0, 0.0),
             without_gil(),
             R"(The set turned counter-clockwise in its plane; marks follow, the datum stays.

Parameters
----------
angle : float
    In radians.
about : array_like, optional
    The place that stays where it is, mm, shape (2,).

Returns
-------
ProfileSet

Raises
------
GeometryError
    For numbers that are not finite.

Examples
--------
>>> import math, planform
>>> disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((5, 0), radius=1)]))])
>>> disc.rotated(math.pi / 2).centroid.round(9).tolist()
[0.0, 5.0]
)")
        .def(
            "mirrored",
            [](const ProfileSet& set, const std::string& axis) {
                if (axis != "x" && axis != "y") refuse_word("axis", axis, {"x", "y"});
                const Point2 second = axis == "x" ? Point2(1.0, 0.0) : Point2(0.0, 1.0);
                return mirrored(set, Point2(0.0, 0.0), second);
            },
            py::arg("axis"), without_gil(), R"(The mirror image: what fits the other hand.

Marks follow, the datum stays; bends keep their direction, as the solid is mirrored with its outline.

Parameters
----------
axis : array_like
    Two points of the line in mm, shape (2, 2); or ``'x'``, ``'y'`` for the axes of the datum.

Returns
-------
ProfileSet

Raises
------
GeometryError
    For numbers that are not finite, two points that are one.

Examples
--------
>>> import planform
>>> disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((5, 2), radius=1)]))])
>>> disc.mirrored([(0, 0), (0, 1)]).centroid.round(9).tolist()
[-5.0, 2.0]
>>> disc.mirrored("x").centroid.round(9).tolist()
[5.0, -2.0]
)")
        .def(
            "mirrored",
            [](const ProfileSet& set, const TwoPoints& axis) {
                return mirrored(set, axis.row(0).transpose(), axis.row(1).transpose());
            },
            py::arg("axis"), without_gil(), "In the line through two points.")
        .def("scaled", &scaled, py::arg("factor"), py::arg("about") = py::make_tuple(0.0, 0.0),
             without_gil(), R"(All lengths times a factor; the datum stays.

Depths of marks, the tolerance and the deviations of the proof are lengths, too: they stay true.

Parameters
----------
factor : float
    Finite and above 0, no unit.
about : array_like, optional
    The place that stays where it is, mm, shape (2,).

Returns
-------
ProfileSet

Raises
------
GeometryError
    For another factor, numbers that are not finite.

Examples
--------
>>> import planform
>>> disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), radius=1)]))])
>>> inches = disc.scaled(25.4)
>>> inches.bounds.tolist(), round(inches.tolerance, 9)
([[-25.4, -25.4], [25.4, 25.4]], 0.254)
)");
}

void add_changes(SetClass& type) {
    type.def(
            "with_profiles",
            [](const ProfileSet& set, std::vector<Profile> profiles, bool validate) {
                return set.with_profiles(std::move(profiles), validation(validate));
            },
            py::arg("profiles"), py::kw_only(), py::arg("validate") = true, without_gil(),
            R"(The same set with other profiles in place of its own; the proof, which was about those, goes.

Parameters
----------
profiles : sequence of Profile
validate : bool, optional
    As of the constructor.

Returns
-------
ProfileSet

Raises
------
GeometryError
    As of the constructor.

Examples
--------
>>> import planform
>>> discs = [planform.Profile(planform.Contour([planform.Arc((x, 0), radius=1)])) for x in (0, 10)]
>>> pair = planform.ProfileSet(discs, name="feet")
>>> pair.with_profiles(pair.profiles[:1])
ProfileSet(name='feet', profiles=1, marks=0, area=3.141592653589793, length=6.283185307179586)
)")
        .def("with_curves", &with_curves, py::arg("curves"), py::arg("tolerance"), without_gil(),
             R"(The set in simpler curves; its tolerance grows by the one given.

Parameters
----------
curves : {'arcs', 'lines'}
    Lines and arcs, with continuous tangent where a curve has one; or chords. What is that already stays as
    it is.
tolerance : float
    Bound in mm on the distance from the curves before.

Returns
-------
ProfileSet
    Marks, names, notes and provenance are kept; the proof was of the curves before, and is not.

Raises
------
GeometryError
    For an unknown word, a tolerance that is not positive and finite or more than a hundredth of the extent;
    with the place, if contours of one profile that all but touch would cross. Profiles that lie nearer to each
    other than the tolerance are not held against each other.

Examples
--------
>>> import planform
>>> disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), radius=10)]))])
>>> octagon_or_more = disc.with_curves("lines", 0.1)
>>> 310 < octagon_or_more.area < disc.area, round(octagon_or_more.tolerance, 9)
(True, 0.11)
)")
        .def_property_readonly(
            "_data_text", [](const ProfileSet& set) { return to_str(set.data()); },
            "What `data` reads.")
        .def("_with_data_text", &ProfileSet::with_data, py::arg("data"), "What `with_data` calls.");
}

}  // namespace

void bind_verbs(py::module_& module) {
    auto type = py::reinterpret_borrow<SetClass>(module.attr("ProfileSet"));
    add_motions(type);
    add_changes(type);
    module.def(
        "_datum_of_word", [](const PlaneLike& datum) { return datum.datum; }, py::arg("datum"),
        "What `Datum.of` calls for words.");
    module.def(
        "_read_bytes",
        [](const py::bytes& data, const std::optional<std::string>& unit, double scale, Heal heal) {
            const auto bytes = py::cast<std::string>(data);
            const py::gil_scoped_release released;
            return load_bytes(bytes, {unit.value_or(std::string()), scale, heal});
        },
        py::arg("data"), py::arg("unit"), py::arg("scale"), py::arg("heal"),
        "What `load` calls for bytes.");
    module.def(
        "_from_brep_parts",
        [](const py::bytes& data,
           const std::vector<
               std::tuple<std::string, std::vector<std::string>, std::optional<Color>>>& labels,
           const std::optional<std::string>& unit, double scale) {
            const std::string_view view = data;
            const py::gil_scoped_release released;
            std::vector<PartLabel> parts;
            for (const auto& [name, path, color] : labels) parts.push_back({name, path, color});
            return from_brep_parts(view, parts,
                                   {unit.value_or(std::string()), scale, Heal::needed});
        },
        py::arg("data"), py::arg("labels"), py::arg("unit"), py::arg("scale"),
        "What `from_ocp` calls.");
    auto solid = py::reinterpret_borrow<py::class_<Solid>>(module.attr("Solid"));
    solid.def(
        "to_brep",
        [](const Solid& self) {
            std::string bytes;
            {
                const py::gil_scoped_release released;
                bytes = brep_bytes(self);
            }
            return py::bytes(bytes);
        },
        R"(The solid as the bytes of a BREP file, in model coordinates and mm.

Returns
-------
bytes
    Text that all versions of the kernel read; names, colours and layers are no part of it.

Raises
------
LoadError
    If the kernel can't write the shape.
)");
}

}  // namespace planform::python
