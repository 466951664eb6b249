#include "flatten/zero_sets/straight_joins.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include "planform/error.hpp"
#include "solid/inset_curve.hpp"

namespace planform::flatten {
namespace {

void take_out(std::vector<BoundaryRoot>& roots, std::size_t one, std::size_t other) {
    roots.erase(roots.begin() + static_cast<std::ptrdiff_t>(std::max(one, other)));
    roots.erase(roots.begin() + static_cast<std::ptrdiff_t>(std::min(one, other)));
}

/// True if the place lies on the limit of the face's parameters in u or v, and the fold runs along
/// that limit: a seam that is seen edge-on.
bool runs_along_limit(const FacingField& field, const Point2& uv) {
    constexpr double beside = 2.0 * solid::InsetCurve::inset, askew = 0.3;
    const solid::FaceSurface& s = field.surface();
    const Vector2 range = s.range().cwiseMax(1e-300);
    const Vector2 travel =
        field.travel(field.with_gradient(uv).gradient.cwiseProduct(range)).cwiseAbs();
    for (const Eigen::Index axis : {0, 1}) {
        const double off =
            std::min(std::abs(uv[axis] - s.low()[axis]), std::abs(s.high()[axis] - uv[axis]));
        if (off <= beside * range[axis] && travel[axis] <= askew * travel[1 - axis]) return true;
    }
    return false;
}

}  // namespace

LevelCurve straight_curve(const solid::FaceSurface& surface, const BoundaryRoot& from,
                          const BoundaryRoot& to, double least) {
    LevelCurve curve{{}, from.node, to.node};
    const Line line{surface.first_order(from.uv).position.head<2>(),
                    surface.first_order(to.uv).position.head<2>()};
    if ((line.end - line.start).norm() > least) curve.curves = {line};
    return curve;
}

std::vector<LevelCurve> join_nearest(
    const solid::FaceSurface& surface, std::vector<BoundaryRoot>& roots, double reach,
    const std::function<double(const BoundaryRoot& start, const BoundaryRoot& end)>& distance) {
    std::vector<LevelCurve> joined;
    while (true) {
        std::size_t start = roots.size(), end = roots.size();
        double nearest = reach;
        for (std::size_t i = 0; i < roots.size(); ++i)
            for (std::size_t j = 0; j < roots.size(); ++j) {
                if (!roots[i].starts || roots[j].starts) continue;
                const double apart = distance(roots[i], roots[j]);
                if (apart >= nearest) continue;
                nearest = apart;
                start = i;
                end = j;
            }
        if (start == roots.size()) return joined;
        joined.push_back(straight_curve(surface, roots[start], roots[end], 0.0));
        take_out(roots, start, end);
    }
}

std::vector<LevelCurve> join_along_limits(const FacingField& field,
                                          std::vector<BoundaryRoot>& roots, double tolerance) {
    constexpr double furthest = 0.02, share = 0.1;
    const solid::FaceSurface& s = field.surface();
    const Vector2 range = s.range().cwiseMax(1e-300);
    std::vector<LevelCurve> joined;
    for (std::size_t i = 0; i < roots.size();) {
        std::size_t other = roots.size();
        double nearest = furthest;
        if (runs_along_limit(field, roots[i].inner_uv))
            for (std::size_t j = i + 1; j < roots.size(); ++j) {
                const double distance =
                    (roots[j].inner_uv - roots[i].inner_uv).cwiseQuotient(range).norm();
                if (roots[j].starts == roots[i].starts || distance >= nearest ||
                    !runs_along_limit(field, roots[j].inner_uv))
                    continue;
                nearest = distance;
                other = j;
            }
        if (other == roots.size()) {
            ++i;
            continue;
        }
        const BoundaryRoot &from = roots[i].starts ? roots[i] : roots[other],
                           &to = roots[i].starts ? roots[other] : roots[i];
        const auto place = [&](const Point2& uv) -> Point2 {
            return s.first_order(uv).position.head<2>();
        };
        const Point2 a = place(from.uv), b = place(to.uv);
        const Point2 middle = place(0.5 * (from.inner_uv + to.inner_uv));
        if ((middle - 0.5 * (a + b)).norm() > share * tolerance) {
            ++i;
            continue;
        }
        joined.push_back(straight_curve(s, from, to, 0.0));
        take_out(roots, i, other);
    }
    return joined;
}

std::vector<LevelCurve> join_across_touch(const HeightField& field,
                                          std::vector<BoundaryRoot> roots) {
    constexpr double widest = 1.0;  // mm
    const auto place = [&](const BoundaryRoot& root) -> Point2 {
        return field.surface().first_order(root.uv).position.head<2>();
    };
    std::vector<LevelCurve> joined;
    while (!roots.empty()) {
        const auto start = std::find_if(roots.begin(), roots.end(),
                                        [](const BoundaryRoot& root) { return root.starts; });
        auto end = roots.end();
        double nearest = widest;
        for (auto it = roots.begin(); it != roots.end(); ++it) {
            const double distance = (place(*it) - place(*start)).norm();
            if (it->starts || distance >= nearest) continue;
            nearest = distance;
            end = it;
        }
        if (end == roots.end())
            throw GeometryError(ErrorKind::face_not_flattened,
                                "edges cross the plane where the face only touches it");
        joined.push_back(straight_curve(field.surface(), *start, *end, one_place));
        roots.erase(std::max(start, end));
        roots.erase(std::min(start, end));
    }
    return joined;
}

}  // namespace planform::flatten
