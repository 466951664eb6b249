#include "binding.hpp"

namespace planform::python {

namespace {

using Points3 = Eigen::Matrix<double, Eigen::Dynamic, 3, Eigen::RowMajor>;

template <class Items, class Take>
Points3 rows_of(const Items& items, Take&& take) {
    Points3 rows(static_cast<Eigen::Index>(items.size()), 3);
    Eigen::Index row = 0;
    for (const auto& item : items) rows.row(row++) = take(item);
    return rows;
}

constexpr const char* contacts_doc =
    R"(Where solids touch: faces on one surface that look at each other and have area in common.

Planes are compared on their exact boundaries; of other surfaces (cylinders, cones, spheres, tori, free
forms) up to 225 places a face are, so that a common area below about a hundredth of both faces may be
missed. Faces that share an edge or a corner only don't touch. Other Python threads run meanwhile.

Parameters
----------
solids : Solid, Model or iterable of Solid
within : float, optional
    Distance in mm up to which faces are on one surface; what they have in common counts where it is broader.

Returns
-------
list of Contact
    By solids, then faces.

Raises
------
GeometryError
    If `within` is not positive and finite, or the kernel fails.

Examples
--------
>>> import pathlib, planform, tempfile
>>> path = planform.write_demo_assembly(pathlib.Path(tempfile.mkdtemp()) / "station.step")
>>> model = planform.load(path)
>>> found = planform.contacts(model)
>>> names = {tuple(model.solids[i].name for i in contact.solids) for contact in found}
>>> ("base plate", "post") in names, ("base plate", "gable") in names
(True, False)
)";

constexpr const char* mating_doc =
    R"(Which curves of outlines have walls that touch other solids, and how a fit is shared between them.

A *mating wall* stands upright on the outline's datum and touches a face of another solid; its whole curve
mates, and so do neighbours that go on along the same line or circle. The shares of two walls that meet sum
to 1, so that the gap between them is the fit; a wall that meets what is not cut (the face of a sheet that
stands in a slot, a turned peg) takes all of it. A wall that only rests on a face, as the shoulder beside a
tab, is a *seat* and takes none. Other Python threads run meanwhile.

Parameters
----------
solids : Solid, Model or iterable of Solid
    The assembly.
outlines : PlateList or list of ProfileSet
    What is cut.
pieces : list of PlacedOutline, optional
    Which solids are cut from which outline; a PlateList knows it by itself.
contacts : list of Contact, optional
    What `contacts` has found; it is asked otherwise.
fit_on : {'slot', 'tab', 'both'}, optional
    Which part gets the fit where a wall in a slot meets one of a tab. A slot is an inner contour, or what
    lies around the other in the outer contour; where both do (fingers), or neither, each gets half.

Returns
-------
Mating

Raises
------
GeometryError
    For indices out of range, an unknown word, or if the kernel fails.

Examples
--------
>>> import pathlib, planform, tempfile
>>> path = planform.write_demo_assembly(pathlib.Path(tempfile.mkdtemp()) / "station.step")
>>> model = planform.load(path)
>>> plates = planform.plates(model)
>>> found = planform.mating(model, plates)
>>> names = [plate.name for plate in plates.plates]
>>> found.outlines[names.index("post")].joints
3
)";

void bind_contact_class(py::module_& module) {
    py::class_<Contact>(module, "Contact", R"(Two faces of two solids that touch. Lengths are mm.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> touching = planform.contacts(station)[0]
>>> [station[number].name for number in touching.solids], touching.area > 1
(['base plate', 'post'], True)
)")
        .def_property_readonly(
            "solids", [](const Contact& contact) { return contact.solids; },
            "Indices in the solids of the call, ascending.")
        .def_property_readonly(
            "faces", [](const Contact& contact) { return contact.faces; },
            "Numbers of the faces, from 1.")
        .def_readonly("area", &Contact::area,
                      "In common, mm^2: exact between planes, else estimated.")
        .def_property_readonly(
            "places",
            [](const Contact& contact) {
                return rows_of(contact.points, [](const ContactPoint& p) { return p.place; });
            },
            "Shape (n, 3), mm, model coordinates: places in what the faces have in common.")
        .def_property_readonly(
            "normals",
            [](const Contact& contact) {
                return rows_of(contact.points, [](const ContactPoint& p) { return p.normal; });
            },
            "Shape (n, 3), no unit: there, out of the first solid.")
        .def_property_readonly(
            "borders",
            [](const Contact& contact) {
                std::vector<Points3> borders;
                for (const std::vector<Point3>& border : contact.borders)
                    borders.push_back(rows_of(border, [](const Point3& p) { return p; }));
                return borders;
            },
            "Between planes, for each part of what they have in common: shape (n, 3), mm, a closed "
            "polyline.")
        .def("__repr__", [](const Contact& contact) {
            return std::string(py::str("Contact(solids={}, faces={}, area={:.6g})")
                                   .format(contact.solids, contact.faces, contact.area));
        });
    module.def(
        "contacts",
        [](const SolidList& solids, double within) {
            return contacts(solids.solids, ContactOptions{within});
        },
        py::arg("solids"), py::kw_only(), py::arg("within") = touching_within, without_gil(),
        contacts_doc);
}

void bind_mating_classes(py::module_& module) {
    py::class_<PlacedOutline>(module, "PlacedOutline",
                              R"(Solids that are cut from one outline: an instance of it.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> placed = planform.placed_outlines(planform.plates(station))
>>> len(placed), placed[0].outline
(23, 0)
)")
        .def(py::init<int, std::vector<int>, int>(), py::arg("outline"), py::arg("solids"),
             py::arg("flattened") = -1,
             "`flattened` is the solid that the outline was made of where it lies; the first of "
             "`solids` is the same shape, moved or mirrored. -1: the datum lies where `solids` "
             "are.")
        .def_readonly("outline", &PlacedOutline::outline, "Index in the outlines of the call.")
        .def_readonly("solids", &PlacedOutline::solids, "Indices: the body, then its islands.")
        .def_readonly("flattened", &PlacedOutline::flattened, "Index of a solid, or -1.")
        .def("__repr__", [](const PlacedOutline& piece) {
            return std::string(py::str("PlacedOutline(outline={}, solids={}, flattened={})")
                                   .format(piece.outline, piece.solids, piece.flattened));
        });
    py::class_<MatingCurve>(module, "MatingCurve",
                            R"(A curve of an outline whose wall touches another solid.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> mating = planform.mating(station, planform.plates(station))
>>> curve = mating.outlines[-1].curves[0]
>>> curve.contour, curve.share, curve.is_seat
(1, 1.0, False)
)")
        .def_property_readonly(
            "profile", [](const MatingCurve& curve) { return curve.at.profile; },
            "Index in the set.")
        .def_property_readonly(
            "contour", [](const MatingCurve& curve) { return curve.at.contour; },
            "0 the outer contour, n hole n - 1.")
        .def_property_readonly(
            "curve", [](const MatingCurve& curve) { return curve.at.curve; },
            "Index in its contour.")
        .def_readonly("is_seat", &MatingCurve::is_seat,
                      "True if it only rests on a face, as the shoulder beside a tab.")
        .def_readonly("share", &MatingCurve::share, "Of the fit: 0 to 1, no unit.")
        .def_readonly("touches", &MatingCurve::touches,
                      "Indices of the solids that any piece of the outline touches there.")
        .def("__repr__", [](const MatingCurve& curve) {
            return std::string(
                py::str("MatingCurve(profile={}, contour={}, curve={}, is_seat={}, share={:g})")
                    .format(curve.at.profile, curve.at.contour, curve.at.curve, curve.is_seat,
                            curve.share));
        });
    py::class_<MatingOutline>(module, "MatingOutline", R"(What mates of one outline.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> mating = planform.mating(station, planform.plates(station))
>>> mating.outlines[-1].fits(0.1)[:2]  # profile, contour, curve, mm
[(0, 1, 0, 0.1), (0, 1, 1, 0.1)]
)")
        .def_readonly("curves", &MatingOutline::curves, "By profile, contour, curve.")
        .def_readonly("joints", &MatingOutline::joints,
                      "Joints of one piece: a slot with what stands in it is one, and so are all "
                      "places where the outer contour meshes with that of one other solid.")
        .def_property_readonly(
            "notes", [](const MatingOutline& outline) { return to_strs(outline.notes); },
            "What a person should know, one sentence each.")
        .def("__repr__", [](const MatingOutline& outline) {
            return std::string(py::str("MatingOutline(curves={}, joints={})")
                                   .format(outline.curves.size(), outline.joints));
        });
    py::class_<Mating>(module, "Mating", R"(What mates in an assembly.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> mating = planform.mating(station, planform.plates(station))
>>> mating.joints, len(mating.outlines)
(34, 12)
)")
        .def_readonly("outlines", &Mating::outlines, "One an outline of the call.")
        .def_readonly("joints", &Mating::joints, "Joints of the assembly.")
        .def("__repr__", [](const Mating& mating) {
            return std::string(py::str("Mating(outlines={}, joints={})")
                                   .format(mating.outlines.size(), mating.joints));
        });
}

void bind_mating(py::module_& module) {
    module.def("placed_outlines", &placed_outlines, py::arg("plates"), without_gil(),
               R"(All pieces of a list of plates: which solids are cut from which outline.

Parameters
----------
plates : PlateList

Returns
-------
list of PlacedOutline
    Outlines are numbered as the plates are.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> plates = planform.plates(station)
>>> len(planform.placed_outlines(plates)) == sum(plate.quantity for plate in plates)
True
)");
    module.def(
        "mating",
        [](const SolidList& solids, const PlateList& plates, FitOn fit_on) {
            return mating(solids.solids, plates, fit_on);
        },
        py::arg("solids"), py::arg("outlines"), py::kw_only(), py::arg("fit_on") = FitOn::slot,
        without_gil(), mating_doc);
    module.def(
        "mating",
        [](const SolidList& solids, const std::vector<ProfileSet>& outlines,
           const std::vector<PlacedOutline>& pieces,
           const std::optional<std::vector<Contact>>& touching, FitOn fit_on) {
            return mating(solids.solids, outlines, pieces,
                          touching ? *touching : contacts(solids.solids), fit_on);
        },
        py::arg("solids"), py::arg("outlines"), py::arg("pieces"), py::kw_only(),
        py::arg("contacts") = py::none(), py::arg("fit_on") = FitOn::slot, without_gil(),
        "The same for any outlines.");
}

}  // namespace

void bind_contact(py::module_& module) {
    bind_contact_class(module);
    bind_mating_classes(module);
    bind_mating(module);
}

}  // namespace planform::python
