#pragma once

/// Looks up keys of N numbers up to a tolerance: which one seen before is the same?

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace planform::grid {

/// Keys are put into cells much larger than the tolerance, so that most look-ups try one cell only.
/// The first key of a kind stands for all later ones within the tolerance (in each coordinate).
template <std::size_t N>
class FuzzyIndex {
  public:
    using Key = std::array<double, N>;

    explicit FuzzyIndex(const Key& tolerance) : tolerance_(tolerance) {}

    /// Number of the key that is the same as `key`; a new number if there is none.
    int find_or_add(const Key& key) {
        const int found = find(key);
        if (found >= 0) return found;
        if (keys_.size() >= heads_.size()) grow();
        const int index = static_cast<int>(keys_.size());
        keys_.push_back(key);
        next_.push_back(-1);
        put(index);
        return index;
    }

    const Key& key(int index) const { return keys_[static_cast<std::size_t>(index)]; }
    std::size_t size() const { return keys_.size(); }

  private:
    static constexpr double cell_factor = 64.0;
    using Cell = std::array<std::int64_t, N>;

    std::size_t bucket(const Cell& cell) const {
        std::uint64_t hash = 0x9e3779b97f4a7c15ULL;
        for (const std::int64_t part : cell) {
            hash ^= static_cast<std::uint64_t>(part);
            hash *= 0xff51afd7ed558ccdULL;
            hash ^= hash >> 32;
        }
        return static_cast<std::size_t>(hash) & (heads_.size() - 1);
    }

    void put(int index) {
        Cell cell;
        for (std::size_t i = 0; i < N; ++i) cell[i] = cell_number(key(index)[i], i);
        int& head = heads_[bucket(cell)];
        next_[static_cast<std::size_t>(index)] = head;
        head = index;
    }

    void grow() {
        heads_.assign(2 * heads_.size(), -1);
        for (std::size_t i = 0; i < keys_.size(); ++i) put(static_cast<int>(i));
    }

    std::int64_t cell_number(double value, std::size_t i) const {
        return static_cast<std::int64_t>(std::floor(value / (cell_factor * tolerance_[i])));
    }

    int find(const Key& key) const {
        Cell low, high, cell;
        for (std::size_t i = 0; i < N; ++i) {
            low[i] = cell_number(key[i] - tolerance_[i], i);
            high[i] = cell_number(key[i] + tolerance_[i], i);
        }
        cell = low;
        int best = -1;
        while (true) {
            for (int index = heads_[bucket(cell)]; index >= 0;
                 index = next_[static_cast<std::size_t>(index)])
                if ((best < 0 || index < best) && same(key, this->key(index))) best = index;
            std::size_t i = 0;
            while (i < N && cell[i] == high[i]) {
                cell[i] = low[i];
                ++i;
            }
            if (i == N) return best;
            ++cell[i];
        }
    }

    bool same(const Key& a, const Key& b) const {
        for (std::size_t i = 0; i < N; ++i)
            if (std::abs(a[i] - b[i]) > tolerance_[i]) return false;
        return true;
    }

    Key tolerance_;
    std::vector<Key> keys_;
    std::vector<int> heads_ =
        std::vector<int>(16, -1);  // by bucket: the last key in it; a power of two
    std::vector<int> next_;        // by key: the one before in its bucket
};

}  // namespace planform::grid
