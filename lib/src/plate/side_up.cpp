#include "planform/side_up.hpp"

#include <cmath>
#include <optional>
#include <string>

#include "model/guarded.hpp"
#include "model/measure/planar_face.hpp"
#include "planform/error.hpp"
#include "planform/occt.hpp"
#include "plate/lay/directions.hpp"
#include "plate/lay/lay.hpp"
#include "plate/recognise.hpp"

namespace planform {

namespace {

using plate::FaceFacts;
using plate::largest_planar_face;

/// No other direction can pass for that of a plate if the solid is thinner than this share of its
/// width across: any other outline would be narrower than PlateOptions::greatest_thickness allows.
constexpr double thin_beyond_doubt = 0.5;

/// A body and its largest planar face.
struct Leader {
    std::size_t solid;
    std::vector<FaceFacts> faces;
    std::size_t face;

    const FaceFacts& largest() const { return faces[face]; }
};

std::optional<Leader> leader_of(std::span<const Solid> solids) {
    std::optional<Leader> best;
    for (std::size_t i = 0; i < solids.size(); ++i) {
        std::vector<FaceFacts> faces = plate::face_facts(shape_of(solids[i]));
        const auto face = largest_planar_face(faces, solids[i].placement());
        // Of bodies with equal faces the first.
        if (face && (!best || faces[*face].area > best->largest().area * (1.0 + 1e-6)))
            best = Leader{i, std::move(faces), *face};
    }
    return best;
}

/// Is the solid so thin across its largest face that it is a plate there or nowhere? Its width is
/// at least that of the face, and that is at least area / diameter.
bool is_thin_beyond_doubt(const Solid& solid, const Leader& leader) {
    const FaceFacts& face = leader.largest();
    const Datum datum(face.plane->point, face.plane->outward);
    const Vector3 size = model::box_in(datum, shape_of(solid)).sizes();
    return size.z() <= thin_beyond_doubt * face.area / size.head<2>().norm();
}

/// Across the flat sides of the plate that the solid is, else across its largest planar face.
Vector3 flat_direction(const Solid& solid, const Leader& leader) {
    if (!is_thin_beyond_doubt(solid, leader)) {
        const auto ways = plate::facings(leader.faces);
        if (plate::directions_of(ways).size() > 1) {
            const plate::Verdict verdict = plate::recognise(solid, {});
            if (verdict.plate) return verdict.plate->datum.normal();
        }
    }
    return leader.largest().plane->outward;
}

SideUp laid_by_rule(std::span<const Solid> solids) {
    const auto leader = leader_of(solids);
    if (!leader)
        throw GeometryError(ErrorKind::invalid_argument,
                            "solid '" + solids.front().name() +
                                "' has no planar face to lie on; give a datum, e.g. xy");
    const Vector3 direction = flat_direction(solids[leader->solid], *leader);
    try {
        return plate::lay(solids, direction).side;
    } catch (const GeometryError& error) {
        SideUp side = plate::lay_by_frame(solids, direction).side;
        side.text += "; which side carries features can't be told: " + std::string(error.what());
        return side;
    }
}

}  // namespace

SideUp side_up(const Solid& solid) { return side_up(std::span(&solid, 1)); }

SideUp side_up(std::span<const Solid> solids) {
    if (solids.empty())
        throw GeometryError(ErrorKind::invalid_argument, "a datum needs at least one solid");
    return model::guarded(solids.front(), [&] { return laid_by_rule(solids); });
}

Datum auto_datum(const Solid& solid) { return side_up(solid).datum; }

Datum auto_datum(std::span<const Solid> solids) { return side_up(solids).datum; }

}  // namespace planform
