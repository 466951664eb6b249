#include "offset/inside.hpp"

#include <cstddef>

namespace planform::offset_detail {

Inside::Inside(const ProfileSet& set) {
    const double tolerance = 1e-3 * set.tolerance();
    const auto add = [&](const Contour& contour) {
        polylines_.push_back({contour.points(tolerance), contour.bounds()});
    };
    for (const Profile& profile : set.profiles()) {
        add(profile.outer());
        for (const Contour& hole : profile.holes()) add(hole);
    }
}

int Inside::winding(const Point2& point) const {
    int winding = 0;
    for (const Polyline& polyline : polylines_) {
        if (!polyline.box.contains(point)) continue;
        Point2 a = polyline.points.back();
        for (const Point2& b : polyline.points) {
            // A ray to the right crosses upward to the left of it, or downward.
            const bool up = a.y() <= point.y() && b.y() > point.y();
            const bool down = a.y() > point.y() && b.y() <= point.y();
            const double side = cross(b - a, point - a);
            if (up && side > 0.0) ++winding;
            if (down && side < 0.0) --winding;
            a = b;
        }
    }
    return winding;
}

}  // namespace planform::offset_detail
