#include "plate/lay/lay.hpp"

#include <algorithm>
#include <string>
#include <utility>

#include "model/measure/planar_face.hpp"
#include "planform/occt.hpp"

namespace planform::plate {

namespace {

std::string by_view(PartView view) {
    return "the " + std::string(word_for(view)) + " view of the part's own frame shows it";
}

/// Everything in a frame whose origin lies over the lower left corner, at the bottom.
Laid seen(std::span<const Solid> solids, const Vector3& up, bool tells_features) {
    const Transform3& part = solids.front().placement();
    // Heights keep most digits near the part.
    const Datum rough = seen_from(up, part, solids.front().bounds().center());
    Laid laid;
    for (const Solid& solid : solids) laid.box.extend(model::box_in(rough, shape_of(solid)));
    double bottom = laid.box.min().z();
    if (tells_features) {
        bool has_bottom = false;
        for (const Solid& solid : solids) {
            StraightCut cut = straight_cut(solid, rough);
            for (const UncuttableFeature& feature : cut.features) {
                laid.side.features_up |= feature.side == FeatureSide::top;
                laid.side.features_down |= feature.side == FeatureSide::bottom;
            }
            if (cut.bottom_is_flat) bottom = has_bottom ? std::min(bottom, cut.bottom) : cut.bottom;
            has_bottom |= cut.bottom_is_flat;
            laid.cuts.push_back(std::move(cut));
        }
    }
    const Vector2 corner = laid.box.min().head<2>();
    const Vector3 shift(corner.x(), corner.y(), bottom);
    laid.side.datum = Datum(rough.to_model(corner, bottom), rough.normal(), rough.x());
    laid.box.translate(-shift);
    for (StraightCut& cut : laid.cuts) {
        cut.top -= bottom;
        cut.bottom -= bottom;
        for (UncuttableFeature& feature : cut.features) {
            feature.place -= corner;
            feature.box.translate(-corner);
        }
    }
    return laid;
}

/// The side across `direction` that a view of the part's frame shows, and that view.
std::pair<Vector3, PartView> shown_side(const Transform3& part, const Vector3& direction) {
    const Vector3 in_part = part.linear().transpose() * direction;
    if (const auto view = view_that_shows(in_part)) return {direction, *view};
    return {-direction, *view_that_shows(-in_part)};
}

}  // namespace

Laid lay(std::span<const Solid> solids, const Vector3& direction) {
    const auto [up, view] = shown_side(solids.front().placement(), direction);
    Laid laid = seen(solids, up, true);
    if (laid.side.features_down && !laid.side.features_up) laid = seen(solids, -up, true);
    const SideUp& side = laid.side;
    laid.side.text = side.is_worked_from_both_sides()
                         ? "both sides carry features: the part must be turned over to make "
                           "them; of the two sides " +
                               by_view(view)
                     : side.features_up ? "this side carries the features"
                                        : by_view(view);
    return laid;
}

Laid lay_by_frame(std::span<const Solid> solids, const Vector3& direction) {
    const auto [up, view] = shown_side(solids.front().placement(), direction);
    Laid laid = seen(solids, up, false);
    laid.side.text = by_view(view);
    return laid;
}

}  // namespace planform::plate
