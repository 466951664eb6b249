#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "model/guarded.hpp"
#include "model/measure/planar_face.hpp"
#include "planform/occt.hpp"
#include "planform/side_up.hpp"
#include "plate/lay/directions.hpp"

namespace planform {

namespace {

/// The largest planar face of a solid: its plane, seen from outside, and its area.
struct LargestFace {
    Datum datum;
    double area;
};

std::optional<LargestFace> largest_face(const Solid& solid) {
    const auto faces = plate::face_facts(shape_of(solid));
    const auto best = plate::largest_planar_face(faces, solid.placement());
    if (!best) return std::nullopt;
    const model::Plane& plane = *faces[*best].plane;
    return LargestFace{Datum(plane.point, plane.outward), faces[*best].area};
}

/// May the solid lie between two heights over a datum? A quick answer by the corners of its box.
bool may_lie_between(const Solid& solid, const Datum& datum, double low, double high) {
    const Box3 box = solid.bounds();
    double least = INFINITY, most = -INFINITY;
    for (int i = 0; i < 8; ++i) {
        const double height = datum.to_datum(box.corner(static_cast<Box3::CornerType>(i))).z();
        least = std::min(least, height);
        most = std::max(most, height);
    }
    return least <= high && most >= low;
}

/// Heights are compared with this slack, mm.
constexpr double same_height = 1e-6;

bool lies_between(const Solid& solid, const Datum& datum, double low, double high) {
    if (!may_lie_between(solid, datum, low, high)) return false;
    const Box3 box = model::box_in(datum, shape_of(solid));
    return box.min().z() >= low - same_height && box.max().z() <= high + same_height;
}

}  // namespace

std::vector<std::vector<int>> coplanar_groups(std::span<const Solid> solids) {
    struct Flat {
        int index;
        std::optional<LargestFace> face;
    };
    std::vector<Flat> left;
    for (std::size_t i = 0; i < solids.size(); ++i)
        left.push_back({static_cast<int>(i),
                        model::guarded(solids[i], [&] { return largest_face(solids[i]); })});
    std::stable_sort(left.begin(), left.end(), [](const Flat& a, const Flat& b) {
        return (a.face ? a.face->area : 0.0) > (b.face ? b.face->area : 0.0);
    });
    std::vector<std::vector<int>> groups;
    while (!left.empty()) {
        const Flat leader = left.front();
        left.erase(left.begin());
        std::vector<int> group{leader.index};
        if (leader.face) {
            const Solid& largest = solids[static_cast<std::size_t>(leader.index)];
            const Datum& datum = leader.face->datum;
            model::guarded(largest, [&] {
                const Box3 slab = model::box_in(datum, shape_of(largest));
                const auto taken =
                    std::stable_partition(left.begin(), left.end(), [&](const Flat& other) {
                        return !lies_between(solids[static_cast<std::size_t>(other.index)], datum,
                                             slab.min().z(), slab.max().z());
                    });
                for (auto other = taken; other != left.end(); ++other)
                    group.push_back(other->index);
                left.erase(taken, left.end());
                return true;
            });
        }
        std::sort(group.begin(), group.end());
        groups.push_back(std::move(group));
    }
    std::sort(groups.begin(), groups.end());
    return groups;
}

}  // namespace planform
