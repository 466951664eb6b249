#include <Standard_Failure.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <optional>
#include <span>
#include <vector>

#include "model/kernel/kernel.hpp"
#include "model/measure/measure.hpp"
#include "model/measure/planar_face.hpp"
#include "planform/error.hpp"
#include "planform/occt.hpp"

namespace planform {

using model::box_in;
using model::lying_on;
using model::parts_of;
using model::Plane;
using model::plane_of;

namespace {

/// Areas and lengths nearer than this, relative, count as equal: mirrored faces differ by rounding
/// only.
constexpr double tie = 1e-6;
/// Runs `body`; an exception of the kernel becomes a GeometryError that names the solid.
template <class Body>
auto guarded(const Solid& solid, Body&& body) {
    try {
        return body();
    } catch (const Standard_Failure& failure) {
        throw GeometryError(ErrorKind::kernel_failure,
                            "solid '" + solid.name() + "': the kernel can't look at its faces (" +
                                model::describe_failure(failure) +
                                "); repair the solid where it was drawn");
    }
}

Datum datum_of_face(const Solid& solid, int number) {
    const TopTools_IndexedMapOfShape faces = parts_of(shape_of(solid), TopAbs_FACE);
    const std::string which = "solid '" + solid.name() + "': face " + std::to_string(number);
    if (number < 1 || number > faces.Extent()) {
        throw GeometryError(ErrorKind::invalid_argument,
                            which + " does not exist; faces have the numbers 1 to " +
                                std::to_string(faces.Extent()));
    }
    const std::optional<Plane> plane = plane_of(TopoDS::Face(faces(number)));
    if (!plane) {
        throw GeometryError(ErrorKind::invalid_argument,
                            which + " is not planar; name a planar face or give origin and normal");
    }
    return Datum(plane->point.dot(plane->outward) * plane->outward, plane->outward);
}

struct PlanarFace {
    TopoDS_Face face;
    double area = 0.0;
};

/// The largest planar face; ties go to the lower number.
std::optional<PlanarFace> largest_planar_face(const TopoDS_Shape& shape) {
    std::optional<PlanarFace> best;
    const TopTools_IndexedMapOfShape faces = parts_of(shape, TopAbs_FACE);
    for (int i = 1; i <= faces.Extent(); ++i) {
        const TopoDS_Face& face = TopoDS::Face(faces(i));
        if (!plane_of(face)) continue;
        const double area = model::face_area(face);
        if (best && area <= best->area * (1.0 + tie)) continue;
        best = PlanarFace{face, area};
    }
    return best;
}

/// May the solid lie between two heights over a datum? A quick answer by the corners of its box.
bool may_lie_between(const Solid& solid, const Datum& datum, double low, double high) {
    const Box3 box = solid.bounds();
    double least = INFINITY, most = -INFINITY;
    for (int i = 0; i < 8; ++i) {
        const double height = datum.to_datum(box.corner(static_cast<Box3::CornerType>(i))).z();
        least = std::min(least, height);
        most = std::max(most, height);
    }
    return least <= high && most >= low;
}

/// Heights are compared with this slack, mm.
constexpr double same_height = 1e-6;

bool lies_between(const Solid& solid, const Datum& datum, double low, double high) {
    if (!may_lie_between(solid, datum, low, high)) return false;
    const Box3 box = box_in(datum, shape_of(solid));
    return box.min().z() >= low - same_height && box.max().z() <= high + same_height;
}

}  // namespace

Datum face_datum(const Solid& solid, int face) {
    return guarded(solid, [&] { return datum_of_face(solid, face); });
}

Datum auto_datum(const Solid& solid) { return auto_datum(std::span(&solid, 1)); }

Datum auto_datum(std::span<const Solid> solids) {
    if (solids.empty())
        throw GeometryError(ErrorKind::invalid_argument, "a datum needs at least one solid");
    return guarded(solids.front(), [&] {
        std::optional<PlanarFace> best;
        for (const Solid& solid : solids) {
            const auto face = largest_planar_face(shape_of(solid));
            if (face && (!best || face->area > best->area * (1.0 + tie))) best = face;
        }
        if (!best) {
            throw GeometryError(ErrorKind::invalid_argument,
                                "solid '" + solids.front().name() +
                                    "' has no planar face to lie on; give a datum, e.g. xy");
        }
        const Datum datum = lying_on(best->face);
        Box3 box;
        for (const Solid& solid : solids) box.extend(box_in(datum, shape_of(solid)));
        return Datum(datum.to_model({box.min().x(), box.min().y()}), datum.normal(), datum.x());
    });
}

std::vector<std::vector<int>> coplanar_groups(std::span<const Solid> solids) {
    struct Flat {
        int index;
        std::optional<PlanarFace> face;
    };
    std::vector<Flat> left;
    for (std::size_t i = 0; i < solids.size(); ++i)
        left.push_back({static_cast<int>(i), guarded(solids[i], [&] {
                            return largest_planar_face(shape_of(solids[i]));
                        })});
    std::stable_sort(left.begin(), left.end(), [](const Flat& a, const Flat& b) {
        return (a.face ? a.face->area : 0.0) > (b.face ? b.face->area : 0.0);
    });
    std::vector<std::vector<int>> groups;
    while (!left.empty()) {
        const Flat leader = left.front();
        left.erase(left.begin());
        std::vector<int> group{leader.index};
        if (leader.face) {
            const Solid& largest = solids[static_cast<std::size_t>(leader.index)];
            guarded(largest, [&] {
                const Datum datum = lying_on(leader.face->face);
                const Box3 slab = box_in(datum, shape_of(largest));
                const auto taken =
                    std::stable_partition(left.begin(), left.end(), [&](const Flat& other) {
                        return !lies_between(solids[static_cast<std::size_t>(other.index)], datum,
                                             slab.min().z(), slab.max().z());
                    });
                for (auto other = taken; other != left.end(); ++other)
                    group.push_back(other->index);
                left.erase(taken, left.end());
                return true;
            });
        }
        std::sort(group.begin(), group.end());
        groups.push_back(std::move(group));
    }
    std::sort(groups.begin(), groups.end());
    return groups;
}

}  // namespace planform
