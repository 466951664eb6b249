#include "flatten/zero_sets/traced_paths.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <gp_Pnt2d.hxx>

namespace planform::flatten {
namespace {

Point2 nearest_on_segment(const Point2& place, const Point2& from, const Point2& to) {
    const Vector2 way = to - from;
    const double square = way.squaredNorm();
    const double along =
        square > 0.0 ? std::clamp((place - from).dot(way) / square, 0.0, 1.0) : 0.0;
    return from + along * way;
}

}  // namespace

bool TracedPaths::pass(const Point2& place) const {
    for (const std::vector<Point2>& path : paths_)
        for (std::size_t i = 0; i + 1 < path.size(); ++i) {
            const double length = (path[i + 1] - path[i]).norm();
            if (length == 0.0) continue;
            if ((nearest_on_segment(place, path[i], path[i + 1]) - place).norm() <
                0.1 * length + rounding_)
                return true;
        }
    return false;
}

bool TracedPaths::meet(const Box2& cell) const {
    const Box2 wide(cell.min() - 0.5 * cell.sizes(), cell.max() + 0.5 * cell.sizes());
    for (const std::vector<Point2>& path : paths_)
        for (std::size_t i = 0; i + 1 < path.size(); ++i) {
            if (!Box2(path[i].cwiseMin(path[i + 1]), path[i].cwiseMax(path[i + 1]))
                     .intersects(wide))
                continue;
            if (wide.contains(nearest_on_segment(cell.center(), path[i], path[i + 1]))) return true;
        }
    return false;
}

bool TracedPaths::is_inside_face(const Point2& place) {
    const Point2 uv = surface_.low() + place.cwiseProduct(surface_.range().cwiseMax(1e-300));
    return interior_.holds(uv);
}

}  // namespace planform::flatten
