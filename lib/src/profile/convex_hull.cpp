#include "profile/convex_hull.hpp"

#include <algorithm>

namespace planform::detail {

// A. M. Andrew, "Another efficient
// algorithm for convex hulls in two dimensions", Information Processing Letters 9 (1979).
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

}  // namespace planform::detail
