#include "grid/order.hpp"

#include <algorithm>
#include <array>
#include <numeric>

namespace planform::grid {
namespace {

constexpr int digit_bits = 11;
constexpr std::size_t digit_values = std::size_t{1} << digit_bits;

/// Below this many keys comparing is cheaper than counting.
constexpr std::size_t few_keys = 512;

struct Keyed {
    std::uint64_t key;
    std::int32_t index;
};

void sort_by_digits(std::vector<Keyed>& keyed, std::uint64_t largest) {
    std::vector<Keyed> other(keyed.size());
    for (int shift = 0; shift < 64 && (largest >> shift) != 0; shift += digit_bits) {
        std::array<std::size_t, digit_values + 1> first{};
        const auto digit = [shift](const Keyed& k) {
            return static_cast<std::size_t>(k.key >> shift) & (digit_values - 1);
        };
        for (const Keyed& k : keyed) ++first[digit(k) + 1];
        for (std::size_t i = 1; i < first.size(); ++i) first[i] += first[i - 1];
        for (const Keyed& k : keyed) other[first[digit(k)]++] = k;
        keyed.swap(other);
    }
}

}  // namespace

std::vector<std::int32_t> order_by_key(const std::vector<std::uint64_t>& keys) {
    std::vector<Keyed> keyed(keys.size());
    std::uint64_t largest = 0;
    for (std::size_t i = 0; i < keys.size(); ++i) {
        keyed[i] = {keys[i], static_cast<std::int32_t>(i)};
        largest = std::max(largest, keys[i]);
    }
    if (keys.size() < few_keys) {
        std::sort(keyed.begin(), keyed.end(), [](const Keyed& a, const Keyed& b) {
            return a.key != b.key ? a.key < b.key : a.index < b.index;
        });
    } else {
        sort_by_digits(keyed, largest);
    }
    std::vector<std::int32_t> order(keys.size());
    for (std::size_t i = 0; i < keyed.size(); ++i) order[i] = keyed[i].index;
    return order;
}

std::vector<std::int32_t> counted(std::size_t count) {
    std::vector<std::int32_t> numbers(count);
    std::iota(numbers.begin(), numbers.end(), 0);
    return numbers;
}

}  // namespace planform::grid
