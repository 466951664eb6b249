#include "solid/face_reach.hpp"

#include <Geom2d_Line.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numeric>

#include "curve/ray_parity.hpp"
#include "model/kernel/points.hpp"

namespace planform::solid {
namespace {

constexpr int reach_pieces = 64;     // of a curve of the boundary that is not straight
constexpr double same_place = 1e-5;  // ends of curves that follow each other

constexpr int bands = 64;

int band_of(double v) { return std::clamp(static_cast<int>(v * bands), 0, bands - 1); }

/// True if as many curves start as end at every place, so that a ray's crossings can be counted.
bool is_closed(const std::vector<Point2>& curve_ends) {
    std::vector<char> met(curve_ends.size(), 0);
    for (std::size_t i = 0; i < curve_ends.size(); ++i) {
        if (met[i]) continue;
        std::size_t other = i + 1;
        while (other < curve_ends.size() &&
               (met[other] || (curve_ends[other] - curve_ends[i]).norm() > same_place))
            ++other;
        if (other == curve_ends.size()) return false;
        met[other] = 1;
    }
    return true;
}

}  // namespace

FaceReach::FaceReach(const FaceSurface& surface, double margin) : margin_(margin) {
    const Vector2 range = surface.range().cwiseMax(1e-300);
    std::vector<Point2> curve_ends;
    for (const ParameterCurve& side : surface.boundary()) {
        if (side.curve.IsNull()) {
            is_closed_ = false;
            return;
        }
        const bool is_straight = side.curve->DynamicType() == STANDARD_TYPE(Geom2d_Line);
        const int count = is_straight ? 1 : reach_pieces;
        const auto at = [&](int i) -> Point2 {
            const Point2 uv = model::from_kernel(
                side.curve->Value(side.first + (side.last - side.first) * i / count));
            return (uv - surface.low()).cwiseQuotient(range);
        };
        Point2 from = at(0);
        curve_ends.push_back(from);
        for (int i = 1; i <= count; ++i) {
            const Point2 to = at(i);
            starts_.push_back(from);
            ends_.push_back(to);
            from = to;
        }
        curve_ends.push_back(from);
    }
    is_closed_ = is_closed(curve_ends);
    set_bands();
}

void FaceReach::set_bands() {
    bands_.resize(bands);
    for (std::size_t i = 0; i < starts_.size(); ++i) {
        const auto [low, high] = std::minmax(starts_[i].y(), ends_[i].y());
        for (int band = band_of(low); band <= band_of(high); ++band)
            bands_[static_cast<std::size_t>(band)].push_back(static_cast<int>(i));
    }
}

FaceReach::Near FaceReach::near(const Box2& cell) const {
    Near all;
    all.sides.resize(starts_.size());
    std::iota(all.sides.begin(), all.sides.end(), 0);
    return near(cell, all);
}

FaceReach::Near FaceReach::near(const Box2& cell, const Near& around) const {
    Near result;
    if (!is_closed_) return result;
    if (around.sides.empty()) return around;
    const Box2 wide(cell.min().array() - margin_, cell.max().array() + margin_);
    for (const int side : around.sides)
        if (meets(side, wide)) result.sides.push_back(side);
    if (result.sides.empty()) result.is_inside = holds(cell.center());
    return result;
}

/// True if the side and the rectangle have a common point: neither an axis nor the side's own line
/// parts them.
bool FaceReach::meets(int side, const Box2& cell) const {
    const Point2& from = starts_[static_cast<std::size_t>(side)];
    const Point2& to = ends_[static_cast<std::size_t>(side)];
    if (!Box2(from.cwiseMin(to), from.cwiseMax(to)).intersects(cell)) return false;
    const Vector2 across(from.y() - to.y(), to.x() - from.x());
    const Vector2 half = 0.5 * cell.sizes();
    return std::abs(across.dot(cell.center() - from)) <= across.cwiseAbs().dot(half);
}

bool FaceReach::holds(const Point2& place) const {
    bool inside = false;
    for (const int side : bands_[static_cast<std::size_t>(band_of(place.y()))]) {
        const auto at = static_cast<std::size_t>(side);
        if (detail::ray_crosses(place, starts_[at], ends_[at])) inside = !inside;
    }
    return inside;
}

}  // namespace planform::solid
