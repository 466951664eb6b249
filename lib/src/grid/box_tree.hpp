#pragma once

/// A static tree of integer boxes, packed along a Morton curve, for overlap queries.

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

namespace planform::grid {

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

    /// True if found(index of box) is true for some box that overlaps `query`; asks no further
    /// then.
    template <typename Found>
    bool any_overlap(const GridBox& query, Found&& found) const {
        return !levels_.empty() && any_below(levels_.size() - 1, 0, query, found);
    }

    /// As any_overlap, for the boxes that come nearer to the point (x, y) than reach(), the nearest
    /// parts of the tree first. What reach() gives may fall from one call of `found` to the next.
    template <typename Reach, typename Found>
    bool any_within(double x, double y, const Reach& reach, Found&& found) const {
        return !levels_.empty() && any_near(levels_.size() - 1, 0, x, y, reach, found);
    }

    /// Calls visit(i, j) for pairs of different boxes that overlap, each unordered pair once.
    template <typename Visit>
    void for_each_pair(Visit&& visit) const {
        if (!levels_.empty()) pairs_within(levels_.size() - 1, 0, visit);
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

    template <typename Found>
    bool any_below(std::size_t level, std::size_t node, const GridBox& query, Found& found) const {
        if (!levels_[level][node].overlaps(query)) return false;
        const Children c = children(level, node);
        for (std::size_t i = c.first; i < c.last; ++i) {
            if (level > 0 ? any_below(level - 1, i, query, found)
                          : boxes_[i].overlaps(query) && found(order_[i]))
                return true;
        }
        return false;
    }

    /// Slots (level 0) or nodes of the level below that a node holds.
    struct Children {
        std::size_t first;
        std::size_t last;
    };
    Children children(std::size_t level, std::size_t node) const {
        const std::size_t below = level == 0 ? boxes_.size() : levels_[level - 1].size();
        return {node * fan_out, std::min((node + 1) * fan_out, below)};
    }

    template <typename Reach, typename Found>
    bool any_near(std::size_t level, std::size_t node, double x, double y, const Reach& reach,
                  Found& found) const {
        const Children c = children(level, node);
        const std::vector<GridBox>& below = level > 0 ? levels_[level - 1] : boxes_;
        // Most are too far away; the others are asked in the order of their distances.
        const double most = squared_if_positive(reach());
        std::array<std::pair<double, std::size_t>, fan_out> near;
        std::size_t count = 0;
        for (std::size_t i = c.first; i < c.last; ++i) {
            const double distance = squared_distance(below[i], x, y);
            if (!(distance < most)) continue;
            std::size_t place = count++;
            for (; place > 0 && near[place - 1].first > distance; --place)
                near[place] = near[place - 1];
            near[place] = {distance, i};
        }
        for (std::size_t k = 0; k < count; ++k) {
            if (k > 0 && !(near[k].first < squared_if_positive(reach()))) return false;
            const std::size_t i = near[k].second;
            if (level > 0 ? any_near(level - 1, i, x, y, reach, found) : found(order_[i]))
                return true;
        }
        return false;
    }

    static double squared_if_positive(double value) { return value > 0.0 ? value * value : 0.0; }

    static double squared_distance(const GridBox& box, double x, double y) {
        const double out_x = std::max({box.low_x - x, 0.0, x - box.high_x});
        const double out_y = std::max({box.low_y - y, 0.0, y - box.high_y});
        return out_x * out_x + out_y * out_y;
    }

    /// Pairs with both boxes below one node.
    template <typename Visit>
    void pairs_within(std::size_t level, std::size_t node, Visit& visit) const {
        const Children c = children(level, node);
        for (std::size_t i = c.first; i < c.last; ++i) {
            if (level > 0) pairs_within(level - 1, i, visit);
            for (std::size_t j = i + 1; j < c.last; ++j) pairs_of_children(level, i, j, visit);
        }
    }

    /// Pairs with one box below (or at) each of two children of nodes of this level.
    template <typename Visit>
    void pairs_of_children(std::size_t level, std::size_t a, std::size_t b, Visit& visit) const {
        if (level > 0) {
            if (levels_[level - 1][a].overlaps(levels_[level - 1][b]))
                pairs_between(level - 1, a, b, visit);
        } else if (boxes_[a].overlaps(boxes_[b])) {
            visit(order_[a], order_[b]);
        }
    }

    /// Pairs with one box below each of two nodes, whose own boxes overlap.
    template <typename Visit>
    void pairs_between(std::size_t level, std::size_t a, std::size_t b, Visit& visit) const {
        const Children ca = children(level, a), cb = children(level, b);
        const GridBox& box_b = levels_[level][b];
        for (std::size_t i = ca.first; i < ca.last; ++i) {
            if (!(level > 0 ? levels_[level - 1][i] : boxes_[i]).overlaps(box_b)) continue;
            for (std::size_t j = cb.first; j < cb.last; ++j) pairs_of_children(level, i, j, visit);
        }
    }

    std::vector<std::int32_t> order_;           // slot -> index of box
    std::vector<GridBox> boxes_;                // by slot
    std::vector<std::vector<GridBox>> levels_;  // [0]: a box over fan_out slots, and so on up
};

}  // namespace planform::grid
