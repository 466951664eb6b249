#include "drawing/loose_ends.hpp"

#include <algorithm>
#include <cstdint>

#include "grid/box_grid.hpp"
#include "grid/box_tree.hpp"

namespace planform::drawing {
namespace {

/// A run comes back to itself if it is this many times as long as the way between its ends; along a
/// straight piece it is once, along half a circle pi / 2 times.
constexpr double least_detour = 3.0;

bool may_be_pair(const LooseEnd& a, const LooseEnd& b, double distance) {
    if (a.is_junction && b.is_junction) return false;
    if (a.is_junction || b.is_junction) {
        const LooseEnd &loose = a.is_junction ? b : a, &junction = a.is_junction ? a : b;
        const bool comes_back = loose.far_node == junction.node;
        return loose.run_length > (comes_back ? least_detour : 1.0) * distance;
    }
    if (a.run == b.run) return a.run_length >= least_detour * distance;
    return distance < std::min(a.run_length, b.run_length);
}

}  // namespace

std::vector<LoosePair> paired_ends(const std::vector<LooseEnd>& ends, double reach) {
    if (ends.empty()) return {};
    std::vector<Box2> boxes;
    boxes.reserve(ends.size());
    const Vector2 half = Vector2::Constant(0.5 * reach);
    for (const LooseEnd& end : ends) boxes.emplace_back(end.place - half, end.place + half);
    const grid::BoxGrid grid(boxes);
    const grid::BoxTree tree(grid(boxes));
    std::vector<LoosePair> candidates;
    tree.for_each_pair([&](std::int32_t a, std::int32_t b) {
        const auto first = static_cast<std::size_t>(std::min(a, b));
        const auto second = static_cast<std::size_t>(std::max(a, b));
        const double distance = (ends[first].place - ends[second].place).norm();
        if (distance <= reach && may_be_pair(ends[first], ends[second], distance))
            candidates.push_back({first, second, distance});
    });
    std::sort(candidates.begin(), candidates.end(), [](const LoosePair& a, const LoosePair& b) {
        if (a.distance != b.distance) return a.distance < b.distance;
        return a.first != b.first ? a.first < b.first : a.second < b.second;
    });
    std::vector<bool> taken(ends.size(), false);
    std::vector<LoosePair> pairs;
    for (const LoosePair& pair : candidates) {
        if (taken[pair.first] || taken[pair.second]) continue;
        taken[pair.first] = taken[pair.second] = true;
        pairs.push_back(pair);
    }
    return pairs;
}

}  // namespace planform::drawing
