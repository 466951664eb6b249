#include "grid/box_tree.hpp"

#include <algorithm>
#include <bit>
#include <cstddef>

#include "grid/order.hpp"

namespace planform::grid {
namespace {

/// Spreads the low 32 bits out to the even bits (G. M. Morton, 1966; the usual shifts and masks).
std::uint64_t spread_bits(std::uint64_t value) {
    value = (value | value << 16) & 0x0000ffff0000ffffULL;
    value = (value | value << 8) & 0x00ff00ff00ff00ffULL;
    value = (value | value << 4) & 0x0f0f0f0f0f0f0f0fULL;
    value = (value | value << 2) & 0x3333333333333333ULL;
    value = (value | value << 1) & 0x5555555555555555ULL;
    return value;
}

/// Places of boxes along a Morton curve on a grid as fine as the order needs.
std::vector<std::uint64_t> morton_codes(const std::vector<GridBox>& boxes) {
    constexpr int bits_per_axis = 16;
    std::vector<std::uint64_t> codes(boxes.size());
    if (boxes.empty()) return codes;
    // Twice the centre.
    const auto x = [](const GridBox& b) { return static_cast<std::int64_t>(b.low_x) + b.high_x; };
    const auto y = [](const GridBox& b) { return static_cast<std::int64_t>(b.low_y) + b.high_y; };
    std::int64_t low_x = x(boxes[0]), high_x = low_x, low_y = y(boxes[0]), high_y = low_y;
    for (const GridBox& box : boxes) {
        low_x = std::min(low_x, x(box));
        high_x = std::max(high_x, x(box));
        low_y = std::min(low_y, y(box));
        high_y = std::max(high_y, y(box));
    }
    const auto extent = static_cast<std::uint64_t>(std::max(high_x - low_x, high_y - low_y));
    const int shift = std::max(0, static_cast<int>(std::bit_width(extent)) - bits_per_axis);
    for (std::size_t i = 0; i < boxes.size(); ++i)
        codes[i] = spread_bits(static_cast<std::uint64_t>(x(boxes[i]) - low_x) >> shift) |
                   spread_bits(static_cast<std::uint64_t>(y(boxes[i]) - low_y) >> shift) << 1;
    return codes;
}

GridBox hull(const GridBox* first, const GridBox* last) {
    GridBox box = *first;
    for (const GridBox* other = first + 1; other != last; ++other) {
        box.low_x = std::min(box.low_x, other->low_x);
        box.low_y = std::min(box.low_y, other->low_y);
        box.high_x = std::max(box.high_x, other->high_x);
        box.high_y = std::max(box.high_y, other->high_y);
    }
    return box;
}

}  // namespace

BoxTree::BoxTree(const std::vector<GridBox>& boxes) {
    order_ = order_by_key(morton_codes(boxes));
    boxes_.reserve(boxes.size());
    for (const std::int32_t index : order_)
        boxes_.push_back(boxes[static_cast<std::size_t>(index)]);

    const std::vector<GridBox>* below = &boxes_;
    while (!below->empty()) {
        std::vector<GridBox> level;
        level.reserve(below->size() / fan_out + 1);
        for (std::size_t first = 0; first < below->size(); first += fan_out) {
            const std::size_t last = std::min(first + fan_out, below->size());
            level.push_back(hull(below->data() + first, below->data() + last));
        }
        levels_.push_back(std::move(level));
        if (levels_.back().size() == 1) break;
        below = &levels_.back();
    }
}

}  // namespace planform::grid
