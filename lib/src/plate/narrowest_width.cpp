#include "plate/narrowest_width.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace planform::plate {

namespace {

/// Chords of the outline, relative to its size: the width is asked for a ratio only.
constexpr double chord_share = 1e-4;

/// Corners of the convex hull, counter-clockwise. Source: A. M. Andrew, "Another efficient
/// algorithm for convex hulls in two dimensions", Information Processing Letters 9 (1979).
std::vector<Point2> convex_hull(std::vector<Point2> points) {
    const auto before = [](const Point2& a, const Point2& b) {
        return a.x() < b.x() || (a.x() == b.x() && a.y() < b.y());
    };
    std::sort(points.begin(), points.end(), before);
    std::vector<Point2> hull;
    for (int pass = 0; pass < 2; ++pass) {
        const std::size_t base = hull.size();
        for (const Point2& point : points) {
            while (hull.size() >= base + 2 &&
                   cross(hull.back() - hull[hull.size() - 2], point - hull.back()) <= 0.0)
                hull.pop_back();
            hull.push_back(point);
        }
        if (!hull.empty()) hull.pop_back();
        std::reverse(points.begin(), points.end());
    }
    return hull;
}

}  // namespace

double narrowest_width(const ProfileSet& outline) {
    if (outline.profiles().empty()) return 0.0;
    const double tolerance = chord_share * outline.bounds().diagonal().norm();
    std::vector<Point2> points;
    for (const Profile& profile : outline.profiles()) {
        const std::vector<Point2> more = profile.outer().points(tolerance);
        points.insert(points.end(), more.begin(), more.end());
    }
    const std::vector<Point2> hull = convex_hull(std::move(points));
    // The narrowest strip has a side of the hull on one of its lines (Houle, Toussaint, "Computing
    // the width of a set", IEEE PAMI 10 (1988)).
    double narrowest = INFINITY;
    for (std::size_t i = 0; i < hull.size(); ++i) {
        const Vector2 side = hull[(i + 1) % hull.size()] - hull[i];
        if (!(side.norm() > 0.0)) continue;
        double widest = 0.0;
        for (const Point2& point : hull)
            widest = std::max(widest, cross(side, point - hull[i]) / side.norm());
        narrowest = std::min(narrowest, widest);
    }
    return std::isfinite(narrowest) ? narrowest : 0.0;
}

}  // namespace planform::plate
