#pragma once

/// A static tree of integer boxes, packed along a Morton curve, for overlap queries.

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace planform::arrange {

struct GridBox {
    std::int32_t low_x, low_y, high_x, high_y;

    bool overlaps(const GridBox& other) const {
        return low_x <= other.high_x && other.low_x <= high_x && low_y <= other.high_y &&
               other.low_y <= high_y;
    }
};

/// Built once in O(n log n); a query costs O(log n + hits) on boxes of like size.
class BoxTree {
  public:
    explicit BoxTree(const std::vector<GridBox>& boxes);

    /// Calls visit(index of box) for every box that overlaps `query` (touching counts).
    template <typename Visit>
    void for_each_overlap(const GridBox& query, Visit&& visit) const {
        if (levels_.empty()) return;
        descend(levels_.size() - 1, 0, query, visit);
    }

    /// Calls visit(i, j) for pairs of different boxes that overlap, each unordered pair once.
    template <typename Visit>
    void for_each_pair(Visit&& visit) const {
        for (std::size_t slot = 0; slot < order_.size(); ++slot) {
            const std::int32_t self = order_[slot];
            if (levels_.empty()) return;
            descend_after(levels_.size() - 1, 0, boxes_[slot], slot,
                          [&](std::int32_t other) { visit(self, other); });
        }
    }

  private:
    static constexpr std::size_t fan_out = 8;

    template <typename Visit>
    void descend(std::size_t level, std::size_t node, const GridBox& query, Visit& visit) const {
        if (!levels_[level][node].overlaps(query)) return;
        const std::size_t first = node * fan_out;
        if (level == 0) {
            const std::size_t last = std::min(first + fan_out, boxes_.size());
            for (std::size_t slot = first; slot < last; ++slot)
                if (boxes_[slot].overlaps(query)) visit(order_[slot]);
            return;
        }
        const std::size_t last = std::min(first + fan_out, levels_[level - 1].size());
        for (std::size_t child = first; child < last; ++child)
            descend(level - 1, child, query, visit);
    }

    /// As descend(), only for slots behind `after`: what makes each pair come once.
    template <typename Visit>
    void descend_after(std::size_t level, std::size_t node, const GridBox& query, std::size_t after,
                       Visit&& visit) const {
        if (last_slot(level, node) <= after) return;
        if (!levels_[level][node].overlaps(query)) return;
        const std::size_t first = node * fan_out;
        if (level == 0) {
            const std::size_t last = std::min(first + fan_out, boxes_.size());
            for (std::size_t slot = std::max(first, after + 1); slot < last; ++slot)
                if (boxes_[slot].overlaps(query)) visit(order_[slot]);
            return;
        }
        const std::size_t last = std::min(first + fan_out, levels_[level - 1].size());
        for (std::size_t child = first; child < last; ++child)
            descend_after(level - 1, child, query, after, visit);
    }

    std::size_t last_slot(std::size_t level, std::size_t node) const {
        std::size_t slots_below = fan_out;
        for (std::size_t i = 0; i < level; ++i) slots_below *= fan_out;
        return std::min((node + 1) * slots_below, boxes_.size()) - 1;
    }

    std::vector<std::int32_t> order_;           // slot -> index of box
    std::vector<GridBox> boxes_;                // by slot
    std::vector<std::vector<GridBox>> levels_;  // [0]: a box over fan_out slots, and so on up
};

}  // namespace planform::arrange
