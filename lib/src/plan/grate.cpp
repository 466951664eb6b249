#include <algorithm>
#include <cmath>

#include "planform/error.hpp"
#include "planform/plan.hpp"

namespace planform {
namespace {

/// Area and first moment across the bars of what a contour encloses, on chords.
struct Moment {
    double area = 0.0;
    double first = 0.0;
};

void add(const Contour& contour, int across, double tolerance, Moment& sum) {
    const std::vector<Point2> points = contour.points(tolerance);
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Point2 &a = points[i], &b = points[(i + 1) % points.size()];
        const double twice = cross(a, b);
        sum.area += 0.5 * twice;
        sum.first += twice * (a(across) + b(across)) / 6.0;
    }
}

}  // namespace

Rest rest_on(const Profile& profile, const Grate& grate) {
    if (!std::isfinite(grate.opening) || grate.opening <= 0.0)
        throw GeometryError(ErrorKind::invalid_argument,
                            "the opening of a grate is a positive finite number of millimetres");
    const int across = grate.bars_along_x ? 1 : 0;
    const Box2 box = profile.bounds();
    // A ten-thousandth of the size moves the centre by less than that.
    const double tolerance = 1e-4 * box.sizes().maxCoeff();
    Moment sum;
    add(profile.outer(), across, tolerance, sum);
    for (const Contour& hole : profile.holes()) add(hole, across, tolerance, sum);
    const double center = sum.first / sum.area;
    const double below = center - box.min()(across), above = box.max()(across) - center;
    if (below + above < grate.opening) return Rest::falls_through;
    return std::min(below, above) < grate.opening ? Rest::may_tip : Rest::lies;
}

}  // namespace planform
