#include "binding.hpp"

namespace planform::python {

namespace {

using PointRows = Eigen::Matrix<double, Eigen::Dynamic, 2, Eigen::RowMajor>;

Ring to_ring(const PointRows& points) {
    Ring ring;
    for (Eigen::Index i = 0; i < points.rows(); ++i) {
        if (!points.row(i).allFinite())
            throw GeometryError(ErrorKind::invalid_argument,
                                "a polygon's vertices must be finite (mm)");
        ring.emplace_back(points(i, 0), points(i, 1));
    }
    return ring;
}

/// An outer ring and the holes, each an (n, 2) array.
Rings to_rings(const std::vector<PointRows>& arrays) {
    if (arrays.empty())
        throw GeometryError(ErrorKind::invalid_argument,
                            "a polygon needs an outer ring: an (n, 2) array in mm");
    Rings rings{to_ring(arrays.front()), {}};
    for (std::size_t i = 1; i < arrays.size(); ++i) rings.holes.push_back(to_ring(arrays[i]));
    return rings;
}

std::vector<Points2> from_rings(const Rings& rings) {
    std::vector<Points2> arrays{to_array(rings.outer)};
    for (const Ring& hole : rings.holes) arrays.push_back(to_array(hole));
    return arrays;
}

void bind_proof_of_layout(py::module_& module) {
    py::class_<LayoutFault>(module, "_LayoutFault", R"(What is wrong with one placement.

`kind` is "outside_sheet", "in_margin", "not_clear", "too_near" or "overlap"; `measured` and `limit` are
distances in mm.
)")
        .def_readonly("kind", &LayoutFault::kind, "What is wrong.")
        .def_readonly("first", &LayoutFault::first, "Index of the piece.")
        .def_readonly("second", &LayoutFault::second, "Index of the other piece, or -1.")
        .def_property_readonly(
            "place", [](const LayoutFault& fault) { return Point2(fault.place); },
            "Where, in mm on the sheet.")
        .def_readonly("measured", &LayoutFault::measured, "In mm.")
        .def_readonly("limit", &LayoutFault::limit, "In mm.")
        .def("__repr__", [](const LayoutFault& fault) {
            return "LayoutFault(" + std::string(word_of(fault.kind)) + ", " +
                   std::to_string(fault.first) + ", " + std::to_string(fault.second) + ")";
        });
    py::class_<LayoutProof>(module, "_LayoutProof", R"(What a layout was held against.

`faults` is empty if it is right. `least_gap` and `least_margin` are the least distances (mm) among those
that hardly exceed what is asked for; infinite if there are none.
)")
        .def_readonly("faults", &LayoutProof::faults, "By pieces.")
        .def_readonly("least_gap", &LayoutProof::least_gap, "Between two pieces, mm.")
        .def_readonly("least_margin", &LayoutProof::least_margin,
                      "Between a piece and the edge of the sheet, mm.")
        .def_readonly("measured_pairs", &LayoutProof::measured_pairs,
                      "Pairs of curves whose distance was measured.")
        .def("__repr__", [](const LayoutProof& proof) {
            return "LayoutProof(" + std::to_string(proof.faults.size()) + " faults)";
        });
    module.def(
        "_prove_layout",
        [](const ProfileSet& sheet, const ProfileSet& keep_clear,
           const std::vector<ProfileSet>& pieces, double gap, double margin) {
            return prove_layout(sheet, keep_clear, pieces, {gap, margin});
        },
        py::arg("sheet"), py::arg("keep_clear"), py::arg("pieces"), py::arg("gap") = 0.0,
        py::arg("margin") = 0.0, without_gil(),
        R"(Hold placed outlines against gap, margin and edge.

Every piece must lie in the sheet less the margin, off the places to keep clear, and no two pieces nearer
than the gap, in holes of each other or not. Distances are exact and may fall short by 1e-6 mm; with a
gap or margin of 0 outlines may touch.

Parameters
----------
sheet : ProfileSet
    The material that there is, mm.
keep_clear : ProfileSet
    Places where nothing may lie, mm; may be empty.
pieces : list of ProfileSet
    The outlines where they lie on the sheet, mm.
gap, margin : float, optional
    Least distances between pieces, and between a piece and the edge, mm.

Returns
-------
LayoutProof

Raises
------
GeometryError
    For negative or infinite distances, a sheet or a piece without an outline.
)");
}

void bind_polygons(py::module_& module) {
    module.def(
        "_contour_distance",
        [](const ProfileSet& first, const ProfileSet& second) {
            return distance_between(first, second).distance;
        },
        py::arg("first"), py::arg("second"), without_gil(),
        R"(The least distance in mm between the contours of two sets, on the exact curves.

Infinite if one has none, 0 where they touch or cross; whether one lies in the material of the other does
not count.
)");
    module.def(
        "_containing_polygons",
        [](const ProfileSet& set, double distance, double tolerance) {
            std::vector<std::vector<Points2>> result;
            for (const Rings& rings : containing_polygons(set, distance, tolerance))
                result.push_back(from_rings(rings));
            return result;
        },
        py::arg("profile_set"), py::arg("distance"), py::arg("tolerance"),
        R"(Polygons that hold the material of a set grown by `distance` (mm).

One list for each profile of the grown set: its outer ring, then its holes, each an (n, 2) array in mm.
They stray no more than `tolerance` (mm) from the grown outline; what is made of lines comes back as it is
if the distance is 0. Raises GeometryError for numbers that make no sense.
)");
    module.def(
        "_simplified_outward",
        [](const PointRows& ring, double bound) {
            return to_array(simplified_outward(to_ring(ring), bound));
        },
        py::arg("ring"), py::arg("bound"),
        R"(A polygon with fewer vertices that holds the given one and strays no more than `bound` (mm) outside.

`ring` is an (n, 2) array, counter-clockwise; so is the result.
)");
    module.def(
        "_separated",
        [](const std::vector<PointRows>& arrays, const Bounds2& box,
           double slack) -> std::optional<Points2> {
            std::vector<Ring> rings;
            for (const PointRows& array : arrays) rings.push_back(to_ring(array));
            const Box2 room(Point2(box.row(0)), Point2(box.row(1)));
            const auto shifts = separated(rings, room, slack);
            if (!shifts) return {};
            return to_array(*shifts);
        },
        py::arg("rings"), py::arg("box"), py::arg("slack"),
        R"(Shifts (n, 2), in mm, that move polygons apart which overlap by a trace, and into the box.

`rings` are (n, 2) arrays, counter-clockwise; `box` holds its lower left and upper right corner. None if
overlaps stay deeper than `slack` (mm).
)");
}

void bind_places(py::module_& module) {
    py::class_<FreeSpace>(module, "_FreeSpace", R"(The room on a sheet that nothing lies on yet, mm.

`room` is a list of (n, 2) arrays, the outer ring and the holes; `cell` the side of the search grid's cells.
)")
        .def(py::init([](const std::vector<PointRows>& room, double cell) {
                 return FreeSpace(to_rings(room), cell);
             }),
             py::arg("room"), py::arg("cell"))
        .def(
            "occupy",
            [](FreeSpace& space, const std::vector<PointRows>& shape) {
                space.occupy(to_rings(shape));
            },
            py::arg("shape"), "Take away what lies under the shape; its holes stay free.")
        .def(
            "find",
            [](FreeSpace& space, const std::vector<std::vector<PointRows>>& shapes,
               int number) -> std::optional<std::tuple<int, double, double>> {
                std::vector<Rings> all;
                for (const std::vector<PointRows>& shape : shapes) all.push_back(to_rings(shape));
                const auto place = space.find(all, number);
                if (!place) return {};
                return std::tuple(place->shape, place->shift.x(), place->shift.y());
            },
            py::arg("shapes"), py::arg("number") = -1,
            R"(The place furthest left (by right ends) of any of the shapes: its index and the shift in x and y (mm).

None if none was found, which proves nothing: the search runs on the grid. Calls with the same number (0 or
more) must offer the same shapes: where there was no room for them is not looked at again.
)")
        .def(
            "is_free",
            [](const FreeSpace& space, const std::vector<PointRows>& shape) {
                return space.is_free(to_rings(shape));
            },
            py::arg("shape"), "Does the shape lie in the room and off all that was occupied?")
        .def(
            "largest_rectangle",
            [](const FreeSpace& space) -> std::optional<Bounds2> {
                const auto box = space.largest_rectangle();
                if (!box) return {};
                return to_array(*box);
            },
            "The largest free rectangle along x and y, its corners as rows (mm); None if no cell "
            "is free.")
        .def("__repr__", [](const FreeSpace&) { return "FreeSpace()"; });
    module.def(
        "_shelves",
        [](const std::vector<std::tuple<double, double, bool>>& items, double width, double height,
           double gap, int sheets) {
            std::vector<ShelfItem> all;
            for (const auto& [w, h, may_turn] : items) all.push_back({w, h, may_turn});
            std::vector<std::tuple<int, int, double, double, bool>> result;
            for (const ShelfPlace& place : shelves(all, width, height, gap, sheets))
                result.emplace_back(place.item, place.sheet, place.x, place.y, place.turned);
            return result;
        },
        py::arg("items"), py::arg("width"), py::arg("height"), py::arg("gap"), py::arg("sheets"),
        R"(Rectangles on shelves across sheets of one size, mm.

`items` are (width, height, may be turned by a quarter), `sheets` is how many there are. Returns (item, sheet,
x, y, turned) with lower left corners, for those that found a place. Raises GeometryError for numbers that
are negative or not finite.
)");
}

}  // namespace

void bind_layout(py::module_& module) {
    bind_proof_of_layout(module);
    bind_polygons(module);
    bind_places(module);
}

}  // namespace planform::python
