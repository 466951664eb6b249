#include "proof/shadow_cover.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>

namespace planform::proof {
namespace {

/// Of the tolerance: how far the polygon may stand off the outline.
constexpr double polygon_share = 0.25;

}  // namespace

ShadowCover::ShadowCover(std::span<const Profile> profiles, double tolerance)
    : within_(polygon_share * tolerance) {
    sides_.add(profiles, within_);
    sides_.sort_into_cells();
}

double ShadowCover::outside(const Point2& place) const {
    if (sides_.windings(place)[0] > 0) return 0.0;
    // A place on the outline is told by its own side.
    return std::max(0.0, sides_.distance(place, within_) - within_);
}

double check_cover(std::span<const Profile> profiles, std::span<const SurfacePlace> places,
                   double tolerance) {
    if (places.empty()) return 0.0;
    const ShadowCover cover(profiles, tolerance);
    double largest = 0.0;
    for (const SurfacePlace& place : places) {
        const double outside = cover.outside(place.place);
        largest = std::max(largest, outside);
        if (outside <= tolerance) continue;
        std::ostringstream text;
        text << "face " << place.face
             << ": the law of cover is broken: a place of it that projects to (" << place.place.x()
             << ", " << place.place.y() << ") lies ";
        if (std::isfinite(outside)) text << outside << " mm ";
        text << "outside the outline; repair the face where the solid was drawn";
        throw PlaceNotCovered(text.str(), place);
    }
    return largest;
}

}  // namespace planform::proof
