#include "proof/shadow_cover.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <sstream>

#include "curve/ray_parity.hpp"

namespace planform::proof {
namespace {

/// Of the tolerance: how far the polygon may stand off the outline.
constexpr double polygon_share = 0.25;

double distance(const Point2& p, const Point2& a, const Point2& b) {
    const Vector2 way = b - a;
    const double square = way.squaredNorm();
    const double along = square > 0.0 ? std::clamp((p - a).dot(way) / square, 0.0, 1.0) : 0.0;
    return (a + along * way - p).norm();
}

}  // namespace

ShadowCover::ShadowCover(std::span<const Profile> profiles, double tolerance)
    : within_(polygon_share * tolerance) {
    for (const Profile& profile : profiles) {
        add(profile.outer());
        for (const Contour& hole : profile.holes()) add(hole);
    }
    set_bands();
}

void ShadowCover::add(const Contour& contour) {
    const std::vector<Point2> points = contour.points(within_);
    for (std::size_t i = 0; i < points.size(); ++i) {
        starts_.push_back(points[i]);
        ends_.push_back(points[(i + 1) % points.size()]);
    }
}

void ShadowCover::set_bands() {
    constexpr std::size_t most = 4096;
    const std::size_t count = std::clamp<std::size_t>(starts_.size() / 2, 1, most);
    first_.assign(count + 1, 0);
    if (starts_.empty()) return;
    double high = -std::numeric_limits<double>::infinity();
    low_ = -high;
    for (const Point2& start : starts_) {
        low_ = std::min(low_, start.y());
        high = std::max(high, start.y());
    }
    height_ =
        std::max((high - low_) / static_cast<double>(count), std::numeric_limits<double>::min());
    // Counted first, then filled: two passes over the sides.
    const auto each_band = [&](const auto& visit) {
        for (std::size_t i = 0; i < starts_.size(); ++i) {
            const auto [a, b] = std::minmax(starts_[i].y(), ends_[i].y());
            for (std::size_t band = band_of(a); band <= band_of(b); ++band) visit(band, i);
        }
    };
    each_band([&](std::size_t band, std::size_t) { ++first_[band + 1]; });
    for (std::size_t band = 0; band < count; ++band) first_[band + 1] += first_[band];
    sides_.resize(first_.back());
    std::vector<std::size_t> next(first_.begin(), first_.end() - 1);
    each_band([&](std::size_t band, std::size_t side) { sides_[next[band]++] = side; });
}

std::size_t ShadowCover::band_of(double y) const {
    const double band = std::floor((y - low_) / height_);
    const auto last = static_cast<double>(first_.size() - 2);
    return static_cast<std::size_t>(std::clamp(band, 0.0, last));
}

bool ShadowCover::holds(const Point2& place) const {
    const std::size_t band = band_of(place.y());
    bool inside = false;
    for (std::size_t i = first_[band]; i < first_[band + 1]; ++i) {
        if (detail::ray_crosses(place, starts_[sides_[i]], ends_[sides_[i]])) inside = !inside;
    }
    return inside;
}

double ShadowCover::outside(const Point2& place) const {
    if (starts_.empty()) return std::numeric_limits<double>::infinity();
    if (holds(place)) return 0.0;
    // The nearest side, band by band away from the place.
    double nearest = std::numeric_limits<double>::infinity();
    const auto look = [&](std::size_t band) {
        // A place on the outline is told by its own side.
        for (std::size_t i = first_[band]; i < first_[band + 1] && nearest > within_; ++i)
            nearest = std::min(nearest, distance(place, starts_[sides_[i]], ends_[sides_[i]]));
    };
    const std::size_t middle = band_of(place.y()), count = first_.size() - 1;
    for (std::size_t step = 0; step < count; ++step) {
        const double gap = (static_cast<double>(step) - 1.0) * height_;
        if (gap > nearest || nearest <= within_) break;
        if (middle >= step) look(middle - step);
        if (step > 0 && middle + step < count) look(middle + step);
    }
    return std::max(0.0, nearest - within_);
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
