#include "flatten/zero_sets/ruling_folds.hpp"

#include <algorithm>
#include <cstddef>
#include <utility>

#include "flatten/zero_sets/straight_joins.hpp"
#include "planform/error.hpp"

namespace planform::flatten {
namespace {

/// How far apart, as a share of the face's parameter box, roots of one line may be found: as
/// exactly as the kernel evaluates; where they were taken inside the boundary; at a vertex beside
/// the line; in a strip along a wall. The nearer ones are joined first.
constexpr double widths[] = {1e-9, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3, 4e-3};

using Group = std::vector<BoundaryRoot>;

/// True if the roots, ascending along the line, are starts and ends by turns.
bool alternates(const Group& group) {
    if (group.size() % 2 != 0) return false;
    for (std::size_t i = 0; i + 1 < group.size(); ++i)
        if (group[i].starts == group[i + 1].starts) return false;
    return true;
}

void join(const solid::FaceSurface& surface, const Group& group, std::vector<LevelCurve>& curves) {
    for (std::size_t i = 0; i + 1 < group.size(); i += 2) {
        const BoundaryRoot& from = group[i].starts ? group[i] : group[i + 1];
        const BoundaryRoot& to = group[i].starts ? group[i + 1] : group[i];
        curves.push_back(straight_curve(surface, from, to, one_place));
    }
}

}  // namespace

std::vector<LevelCurve> ruling_folds(const solid::FaceSurface& surface, Parameter along,
                                     std::vector<BoundaryRoot> roots) {
    const Eigen::Index line = along == Parameter::v ? 1 : 0, across = 1 - line;
    const double range = surface.range()[across];
    std::vector<LevelCurve> curves;
    for (const double width : widths) {
        std::stable_sort(roots.begin(), roots.end(),
                         [&](const BoundaryRoot& a, const BoundaryRoot& b) {
                             return a.uv[across] < b.uv[across];
                         });
        std::vector<BoundaryRoot> left;
        for (std::size_t i = 0; i < roots.size();) {
            Group group = {roots[i++]};
            while (i < roots.size() &&
                   roots[i].uv[across] - group.back().uv[across] <= width * range)
                group.push_back(roots[i++]);
            std::stable_sort(group.begin(), group.end(),
                             [&](const BoundaryRoot& a, const BoundaryRoot& b) {
                                 return a.uv[line] < b.uv[line];
                             });
            if (alternates(group))
                join(surface, group, curves);
            else
                left.insert(left.end(), group.begin(), group.end());
        }
        roots = std::move(left);
        if (roots.empty()) return curves;
    }
    throw GeometryError(ErrorKind::face_not_flattened,
                        "a fold along the extrusion is met by one edge alone");
}

}  // namespace planform::flatten
