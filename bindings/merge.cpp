#include "datum_like.hpp"

namespace planform::python {

namespace {

using SetClass = py::class_<ProfileSet>;

/// What all four booleans have in common.
constexpr const char* boolean_rest = R"(

On the exact curves: lines stay lines, arcs arcs, splines splines. The result is on this set's datum;
the other's datum may be another parallel one that faces the same way, its outlines are then moved to
where they lie in the model. Profiles that touch along an edge become one, profiles that touch in a
point stay two. Marks are taken as a set of contours. Other Python threads run meanwhile.

Parameters
----------
other : ProfileSet

Returns
-------
ProfileSet
    Lengths in mm; its tolerance is the larger of the two.

Raises
------
GeometryError
    If the datums are not parallel or face each other, or outlines can't be told apart; the message
    gives the place.
)";

constexpr const char* union_example = R"(
Examples
--------
>>> import planform
>>> def disc(x):
...     return planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((x, 0), 10)]))])
>>> both = disc(0) | disc(12)
>>> len(both.profiles), [type(curve).__name__ for curve in both.profiles[0].outer.curves]
(1, ['Arc', 'Arc'])
>>> round(disc(0).area + disc(12).area - both.area - (disc(0) & disc(12)).area, 9)
0.0
)";

constexpr const char* difference_example = R"(
Examples
--------
>>> import planform
>>> def disc(radius):
...     return planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), radius)]))])
>>> ring = disc(10) - disc(6)
>>> len(ring.profiles[0].holes), round((ring ^ disc(10)).area / disc(6).area, 9)
(1, 1.0)
)";

/// pybind11 keeps the pointer of a docstring only while it reads it.
std::string doc_of(const char* first_line, const char* example = "") {
    return std::string(first_line) + boolean_rest + example;
}

void add_booleans(SetClass& type) {
    using Boolean = ProfileSet (*)(const ProfileSet&, const ProfileSet&);
    const auto add = [&](const char* word, const char* sign, Boolean boolean,
                         const std::string& doc) {
        type.def(word, boolean, py::arg("other"), without_gil(), doc.c_str());
        type.def(sign, boolean, py::arg("other"), without_gil(), py::is_operator(), word);
    };
    add("united", "__or__", &united,
        doc_of("The material of either set, also as ``a | b``.", union_example));
    add("intersection", "__and__", &intersection,
        doc_of("The material of both sets, also as ``a & b``."));
    add("difference", "__sub__", &difference,
        doc_of("The material of this set without that of the other, also as ``a - b``.",
               difference_example));
    add("symmetric_difference", "__xor__", &symmetric_difference,
        doc_of("The material of one of the two sets only, also as ``a ^ b``: how a changed outline "
               "differs from the old one."));
}

void add_pieces(SetClass& type) {
    type.def_property_readonly(
            "islands",
            [](const ProfileSet& set) {
                std::vector<Profile> islands;
                for (const int index : set.islands())
                    islands.push_back(set.profiles()[static_cast<std::size_t>(index)]);
                return islands;
            },
            "The profiles that lie in a hole of another, at any depth; `Profile.parent` says of "
            "which.")
        .def("drop_outs", &drop_outs, without_gil(),
             R"(The pieces of sheet that fall out of the holes when the profiles are cut.

The inside of an 8 that is cut out as a letter is one; the inside of an 8 that is cut through a plate is
an island.

Returns
-------
ProfileSet
    A profile each, under the name of the profile that has the hole; islands in it are taken off. In
    mm.

Raises
------
GeometryError
    If outlines can't be told apart; the message gives the place.

Examples
--------
>>> import planform
>>> def circle(radius):
...     return planform.Contour([planform.Arc((0, 0), radius)])
>>> ring = planform.ProfileSet([planform.Profile(circle(10), [circle(6)], name="ring")])
>>> [(piece.name, round(piece.area, 3)) for piece in ring.drop_outs()]
[('ring', 113.097)]
)")
        .def(
            "with_datum",
            [](const ProfileSet& set, const PlaneLike& datum) {
                return set.with_datum(datum.datum);
            },
            py::arg("datum"),
            R"(The same coordinates on another datum.

Parameters
----------
datum : Datum or {'xy', 'xz', 'yz'}

Returns
-------
ProfileSet
    In mm.
)");
}

constexpr const char* merge_doc =
    R"(Many profile sets as one; the order of the sets does not matter.

Parameters
----------
sets : iterable of ProfileSet
    On datums that are parallel and face the same way; the result is on the first one's.
how : {'union', 'keep'}, optional
    The union of all. Or side by side, each profile with its name or that of its set: what lies on or
    in the material of another set becomes marks under its name (raised or sunk text on a plate), what
    lies in a hole of another is an island with that one as parent. A profile that lies on others in
    part only stays whole, and a note says so.

Returns
-------
ProfileSet
    In mm; an empty set for no sets.

Raises
------
GeometryError
    For an unknown word, datums that don't fit, or outlines that can't be told apart; the message gives
    the place.

Examples
--------
>>> import planform
>>> def disc(name, radius):
...     contour = planform.Contour([planform.Arc((0, 0), radius)])
...     return planform.ProfileSet([planform.Profile(contour)], name=name)
>>> kept = planform.merge([disc("button", 3), disc("plate", 10)], how="keep")
>>> [profile.name for profile in kept.profiles], [mark.name for mark in kept.marks]
(['plate'], ['button'])
>>> len(planform.merge([disc("button", 3), disc("plate", 10)]).profiles[0].holes)
0
)";

constexpr const char* bridges_doc =
    R"(The set with every island (or drop-out) held by bridges; none is left loose.

A bridge is a strip with straight sides from material to material; its ends are the outlines' own curves.
The first one of an island stands where the gap is shortest, the others where it is shortest in the middle
halves of equal shares of the island's outline, elsewhere if there is no room. A strip meets nothing but the
gap it bridges. Other Python threads run meanwhile.

Parameters
----------
profiles : ProfileSet
width : float
    Width of a bridge in mm.
count : int, optional
    Bridges an island.
hold : {'islands', 'drop-outs'}, optional
    Islands are held to the material around them (the insides of letters cut through a plate). Drop-outs
    are held to the sheet outside (the insides of letters cut out): the strips are taken out of the
    profiles.

Returns
-------
ProfileSet
    In mm. Checked: the area differs by that of the bridges alone. A set with nothing to hold comes back
    as it is.

Raises
------
GeometryError
    With the name and place of an island that has no room for its bridges; for a width that is not
    positive and finite, a count below 1 or an unknown word.

Examples
--------
>>> import planform
>>> def disc(radius):
...     return planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), radius)]))])
>>> target = (disc(20) - disc(12)) | disc(8)
>>> len(target.islands)
1
>>> held = planform.bridges(target, width=2, count=3)
>>> len(held.islands), len(held.profiles), len((held - target).profiles)
(0, 1, 3)
)";

}  // namespace

void bind_merge(py::module_& module) {
    auto type = py::reinterpret_borrow<SetClass>(module.attr("ProfileSet"));
    add_booleans(type);
    add_pieces(type);
    module.def(
        "merge",
        [](const py::typing::Iterable<ProfileSet>& sets, Merge how) {
            std::vector<ProfileSet> list;
            for (const py::handle& set : sets) {
                if (!py::isinstance<ProfileSet>(set))
                    throw py::type_error(
                        "merge takes profile sets; one of them is a " +
                        py::str(py::type::of(set).attr("__name__")).cast<std::string>());
                list.push_back(set.cast<const ProfileSet&>());
            }
            const py::gil_scoped_release released;
            return how == Merge::unite ? united(list) : kept_apart(list);
        },
        py::arg("sets"), py::arg("how") = Merge::unite, merge_doc);
    module.def("bridges", &bridges, py::arg("profiles"), py::arg("width"), py::arg("count") = 2,
               py::arg("hold") = Hold::islands, without_gil(), bridges_doc);
}

}  // namespace planform::python
