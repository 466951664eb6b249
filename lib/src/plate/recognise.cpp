#include "plate/recognise.hpp"

#include <Standard_Failure.hxx>
#include <algorithm>
#include <cmath>

#include "model/kernel/kernel.hpp"
#include "planform/error.hpp"
#include "planform/occt.hpp"
#include "plate/lay/directions.hpp"
#include "plate/lay/lay.hpp"
#include "plate/text.hpp"

namespace planform::plate {

namespace {

/// Greatest thickness against the mean breadth of the material, 2 area / length of the outline: a
/// slice of a tube has high walls and hardly any face (common practice, no source).
constexpr double highest_walls = 4.0;
/// Heights nearer than this, relative, count as equal.
constexpr double equal_heights = 1e-6;
/// A part counts as turned from this share of its surface on.
constexpr double turned_from = 0.8;
/// A part that turns throughout is a plate all the same if outline times thickness explains this
/// much: a washer with a chamfer.
constexpr double turns_throughout = 0.95;
constexpr double disc_explains = 0.9;

/// Area of what belongs to no feature, mm^2.
struct Made {
    double flat = 0.0;   ///< in the two sides of the sheet
    double walls = 0.0;  ///< straight walls
};

double smaller_over_larger(double a, double b) { return std::min(a, b) / std::max(a, b); }

class Recognition {
  public:
    Recognition(const Solid& solid, const PlateOptions& options)
        : solid_(solid), options_(options), faces_(face_facts(shape_of(solid))) {}

    Verdict run() {
        verdict_.surface = surface_area(faces_);
        const std::vector<Facing> ways = facings(faces_);
        const std::vector<Direction> directions = directions_of(ways);
        std::optional<Refusal> thinnest;
        double least_height = INFINITY;
        for (const Direction& direction : directions) {
            std::optional<Refusal> refusal = try_direction(direction);
            if (!refusal) return std::move(verdict_);
            // A sheet that is bent is no plate in any direction; what leans is none either.
            const bool is_final =
                refusal->reason == NotFlat::bent_sheet || refusal->reason == NotFlat::draft;
            // Reported is what it lacks in the direction in which it is thinnest; equal ones keep
            // their order.
            const double height = height_of(direction);
            if (is_final || !thinnest || height < least_height * (1.0 - equal_heights)) {
                thinnest = std::move(refusal);
                least_height = height;
            }
            if (is_final) break;
        }
        verdict_.refusal = final_reason(thinnest, directions);
        return std::move(verdict_);
    }

  private:
    /// Makes the plate, or says why it is none in this direction.
    std::optional<Refusal> try_direction(const Direction& direction);
    Refusal final_reason(const std::optional<Refusal>& thinnest,
                         const std::vector<Direction>& directions) const;
    double height_of(const Direction& direction) const;
    std::optional<Refusal> check_size(const ProfileSet& outline, double thickness) const;
    std::optional<Refusal> check_rise(const Slab& slab) const;
    std::optional<Refusal> check_shares(const Plate& plate) const;
    Made made_by(const StraightCut& cut, const Vector3& normal) const;

    const Solid& solid_;
    const PlateOptions& options_;
    std::vector<FaceFacts> faces_;
    Verdict verdict_;
};

/// Between the outermost faces that look the two ways, mm.
double Recognition::height_of(const Direction& direction) const {
    double top = -INFINITY, bottom = INFINITY;
    const Vector3& up = direction.upper->outward;
    for (const std::size_t i : direction.upper->faces)
        top = std::max(top, faces_[i].plane->point.dot(up));
    for (const std::size_t i : direction.lower->faces)
        bottom = std::min(bottom, faces_[i].plane->point.dot(up));
    return top - bottom;
}

std::optional<Refusal> Recognition::check_size(const ProfileSet& outline, double thickness) const {
    const double width = narrowest_width(outline);
    if (thickness > options_.greatest_thickness * width) {
        return Refusal{NotFlat::block, "its thickness of " + millimetres(thickness) + " is " +
                                           figure(thickness / width) + " of its narrowest width, " +
                                           millimetres(width) + "; a plate has at most " +
                                           figure(options_.greatest_thickness)};
    }
    const double breadth = 2.0 * outline.area() / outline.length();
    if (thickness > highest_walls * breadth) {
        return Refusal{NotFlat::block,
                       "its walls of " + millimetres(thickness) + " stand " +
                           figure(thickness / breadth) + " times as high as they are broad (" +
                           millimetres(breadth) + " on average); a plate's at most " +
                           figure(highest_walls)};
    }
    return std::nullopt;
}

std::optional<Refusal> Recognition::check_rise(const Slab& slab) const {
    if (slab.beyond() <= options_.greatest_rise * slab.thickness()) return std::nullopt;
    return Refusal{NotFlat::stands_out,
                   "it stands out of its sheet of " + millimetres(slab.thickness()) + " by " +
                       millimetres(slab.beyond()) + "; a plate's bosses by at most " +
                       percent(options_.greatest_rise) +
                       " of its thickness; draw studs and ribs as solids of their own"};
}

Made Recognition::made_by(const StraightCut& cut, const Vector3& normal) const {
    std::vector<bool> in_feature(faces_.size() + 1, false);
    for (const UncuttableFeature& feature : cut.features)
        for (const int face : feature.faces) in_feature[static_cast<std::size_t>(face)] = true;
    Made made;
    for (const FaceFacts& face : faces_) {
        if (in_feature[static_cast<std::size_t>(face.number)]) continue;
        const bool is_flat =
            face.plane && face.plane->outward.cross(normal).norm() < same_direction;
        (is_flat ? made.flat : made.walls) += face.area;
    }
    return made;
}

std::optional<Refusal> Recognition::check_shares(const Plate& plate) const {
    if (!(plate.volume_share >= options_.least_volume_share)) {
        return Refusal{NotFlat::hollowed,
                       "outline times thickness of " + millimetres(plate.thickness) + ", " +
                           figure(plate.outline.area() * plate.thickness, 1) +
                           " mm3, and volume, " + figure(plate.volume, 1) + " mm3, agree to " +
                           percent(plate.volume_share) + " only; a plate's to " +
                           percent(options_.least_volume_share)};
    }
    if (!(plate.wall_share >= options_.least_wall_share)) {
        return Refusal{NotFlat::no_straight_walls,
                       "a cut along its outline makes walls of which the solid has " +
                           percent(plate.wall_share) + " only; a plate has at least " +
                           percent(options_.least_wall_share)};
    }
    if (!(plate.surface_share >= options_.least_surface_share)) {
        return Refusal{NotFlat::milled,
                       "only " + percent(plate.surface_share) +
                           " of its surface lies in its two flat faces and in straight walls; a "
                           "plate's at least " +
                           percent(options_.least_surface_share)};
    }
    return std::nullopt;
}

std::optional<Refusal> Recognition::try_direction(const Direction& direction) {
    Laid laid = lay(std::span(&solid_, 1), direction.upper->outward);
    const Datum datum = laid.side.datum;
    StraightCut cut = std::move(laid.cuts.front());
    if (!cut.top_is_flat || !cut.bottom_is_flat || !(cut.thickness() > 0.0)) {
        return Refusal{NotFlat::no_flat_faces,
                       "its parallel flat faces don't look away from each other"};
    }
    const Box3& box = laid.box;
    const Slab slab{datum, cut.bottom, cut.top, box.min().z(), box.max().z(), direction.area};
    if (auto bend = find_bend(faces_, slab)) return bend;
    // What is as thick as broad is a block, or a turned cone, before it is a plate with draft.
    const double narrow = std::min(box.sizes().x(), box.sizes().y());
    const auto draft = find_draft(faces_, cut, datum.normal());
    if (draft && slab.thickness() <= options_.greatest_thickness * narrow) return draft;
    if (auto rise = check_rise(slab)) return rise;

    FlattenOptions flattening;
    flattening.tolerance = limited_tolerance(options_.tolerance, solid_.bounds().diagonal().norm());
    flattening.at = cut.is_straight() ? At::shadow : options_.at;
    ProfileSet outline = silhouette(std::span(&solid_, 1), datum, flattening);
    ++verdict_.flattened;
    if (auto block = check_size(outline, cut.thickness())) return block;

    const double volume = solid_.volume();
    const Made made = made_by(cut, datum.normal());
    const double thickness = cut.thickness();
    Plate plate{
        .name = solid_.name(),
        .thickness = thickness,
        .datum = datum,
        .side = laid.side,
        .outline = outline.with_name(solid_.name()),
        .volume_share = smaller_over_larger(volume, outline.area() * thickness),
        .surface_share = (made.flat + made.walls) / verdict_.surface,
        .wall_share = std::min(1.0, made.walls / (outline.length() * thickness)),
        .volume = volume,
        .cut = std::move(cut),
        .instances = {},
        .names = {},
        .notes = {},
    };
    if (auto low = check_shares(plate)) return low;
    if (options_.at == At::shadow && !plate.cut.features.empty())
        plate.outline = plate.outline.with_marks(
            feature_marks(solid_, datum, options_.marks, plate.outline.tolerance()));
    if (plate.volume_share < disc_explains) {
        const Turned turned = turned_share(faces_);
        if (turned.share >= turns_throughout)
            return Refusal{NotFlat::turned_part, percent(turned.share) +
                                                     " of its surface turns around one axis, and "
                                                     "outline times thickness explains " +
                                                     percent(plate.volume_share) + " of it"};
    }
    verdict_.plate = std::move(plate);
    return std::nullopt;
}

Refusal Recognition::final_reason(const std::optional<Refusal>& thinnest,
                                  const std::vector<Direction>& directions) const {
    if (thinnest && (thinnest->reason == NotFlat::bent_sheet || thinnest->reason == NotFlat::draft))
        return *thinnest;
    if (auto folded = find_folded_sheet(faces_)) return *folded;
    if (auto rolled = find_rolled_sheet(faces_)) return *rolled;
    const Turned turned = turned_share(faces_);
    if (turned.share >= turned_from) {
        return {NotFlat::turned_part,
                percent(turned.share) + " of its surface turns around one axis" +
                    (turned.diameter > 0.0 ? ", largest diameter " + millimetres(turned.diameter)
                                           : "")};
    }
    if (auto wedge = find_wedge(faces_, directions.empty() ? 0.0 : directions.front().area))
        return *wedge;
    if (thinnest) return *thinnest;
    return {NotFlat::no_flat_faces, "it has no two flat faces opposite each other"};
}

}  // namespace

Verdict recognise(const Solid& solid, const PlateOptions& options) {
    Verdict verdict;
    try {
        return Recognition(solid, options).run();
    } catch (const Error& error) {
        verdict.refusal.text = error.what();
    } catch (const Standard_Failure& failure) {
        verdict.refusal.text = "the kernel fails on it (" + model::describe_failure(failure) +
                               "); repair the solid where it was drawn";
    }
    return verdict;
}

}  // namespace planform::plate
