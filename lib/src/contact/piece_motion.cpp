#include "contact/piece_motion.hpp"

#include <TopLoc_Location.hxx>
#include <algorithm>
#include <cstddef>
#include <gp_Trsf.hxx>
#include <vector>

#include "planform/congruence.hpp"
#include "planform/error.hpp"
#include "planform/occt.hpp"

namespace planform::contact {
namespace {

/// Bodies that are drawn apart and counted as one plate differ by less, mm: wider than what
/// plates() allows by default, as it has decided already that they are the same.
constexpr double laid_within = 0.1;

Transform3 from_kernel(const gp_Trsf& motion) {
    Transform3 result = Transform3::Identity();
    for (int row = 0; row < 3; ++row)
        for (int column = 0; column < 4; ++column)
            result.matrix()(row, column) = motion.Value(row + 1, column + 1);
    return result;
}

/// From datum coordinates to the model.
Transform3 frame_of(const Datum& datum) {
    Transform3 frame = Transform3::Identity();
    frame.linear() << datum.x(), datum.y(), datum.normal();
    frame.translation() = datum.origin();
    return frame;
}

/// Another shape: its own outline is laid on the outline.
std::optional<Transform3> by_congruence(const std::vector<Solid>& bodies,
                                        const ProfileSet& outline) {
    const PlateList own = plates(bodies);
    if (own.plates.size() != 1) return std::nullopt;
    const Plate& plate = own.plates.front();
    CongruenceOptions options;
    options.tolerance = std::max(laid_within, outline.tolerance());
    options.turning = Turning::allowed;
    // Marks are those that the caller asked for; the cut alone tells how it lies.
    const auto found =
        find_congruence(plate.outline.with_marks({}), outline.with_marks({}), options);
    if (!found) return std::nullopt;
    Transform3 lay = Transform3::Identity();
    lay.linear().topLeftCorner<2, 2>() = found->motion.linear();
    lay.translation().head<2>() = found->motion.translation();
    return frame_of(outline.datum()) * lay * frame_of(plate.datum).inverse();
}

}  // namespace

std::optional<Transform3> piece_motion(std::span<const Solid> solids, const PlacedOutline& piece,
                                       const ProfileSet& outline) {
    if (piece.solids.empty() || piece.flattened < 0 || piece.flattened == piece.solids.front())
        return Transform3::Identity();
    const TopoDS_Shape& here = shape_of(solids[static_cast<std::size_t>(piece.solids.front())]);
    const TopoDS_Shape& there = shape_of(solids[static_cast<std::size_t>(piece.flattened)]);
    if (here.IsPartner(there))
        return from_kernel(there.Location().Transformation() *
                           here.Location().Transformation().Inverted());
    std::vector<Solid> bodies;
    for (const int solid : piece.solids) bodies.push_back(solids[static_cast<std::size_t>(solid)]);
    try {
        return by_congruence(bodies, outline);
    } catch (const GeometryError&) {
        return std::nullopt;
    }
}

}  // namespace planform::contact
