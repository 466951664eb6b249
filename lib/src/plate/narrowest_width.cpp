#include <algorithm>
#include <cmath>
#include <vector>

#include "plate/recognise.hpp"
#include "profile/convex_hull.hpp"

namespace planform::plate {

namespace {

/// Chords of the outline, relative to its size: the width is asked for a ratio only.
constexpr double chord_share = 1e-4;

}  // namespace

double narrowest_width(const ProfileSet& outline) {
    if (outline.profiles().empty()) return 0.0;
    const double tolerance = chord_share * outline.bounds().diagonal().norm();
    std::vector<Point2> points;
    for (const Profile& profile : outline.profiles()) {
        const std::vector<Point2> more = profile.outer().points(tolerance);
        points.insert(points.end(), more.begin(), more.end());
    }
    const std::vector<Point2> hull = detail::convex_hull(std::move(points));
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
