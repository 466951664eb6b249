#pragma once

/// Sorting by integer keys in linear time.

#include <cstddef>
#include <cstdint>
#include <vector>

namespace planform::grid {

/// Indices of `keys` in ascending order of the keys; equal keys keep their order. Radix sort, O(n).
std::vector<std::int32_t> order_by_key(const std::vector<std::uint64_t>& keys);

/// The same for small keys 0 <= key(i) < bound, `items` in any order: a stable counting sort.
template <typename Key>
std::vector<std::int32_t> order_by_small_key(const std::vector<std::int32_t>& items,
                                             std::size_t bound, Key&& key) {
    std::vector<std::int32_t> next(bound + 1, 0);
    for (const std::int32_t item : items) ++next[static_cast<std::size_t>(key(item)) + 1];
    for (std::size_t i = 1; i < next.size(); ++i) next[i] += next[i - 1];
    std::vector<std::int32_t> order(items.size());
    for (const std::int32_t item : items)
        order[static_cast<std::size_t>(next[static_cast<std::size_t>(key(item))]++)] = item;
    return order;
}

/// 0, 1, ... count - 1.
std::vector<std::int32_t> counted(std::size_t count);

}  // namespace planform::grid
