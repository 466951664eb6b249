/// Are two profile sets the same outline? Compared number by number, so that noise can't tell them
/// apart wherever it falls; a digest can't promise as much.

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "planform/profile.hpp"
#include "profile/numbers.hpp"

namespace planform {
namespace {

using detail::ContourNumbers;
using detail::CurveNumbers;
using detail::ProfileNumbers;
using detail::SetNumbers;

/// mm by which numbers of equal sets may differ: a thousand times the noise of a motion, a
/// ten-thousandth of the default tolerance; less for sets below 1 mm, the same share of their size.
constexpr double equal_lengths = 1e-6;

class Comparison {
  public:
    explicit Comparison(double near) : near_(near) {}

    bool operator()(const ContourNumbers& a, const ContourNumbers& b) const {
        if (a.size() != b.size()) return false;
        for (std::size_t shift = 0; shift < b.size(); ++shift)
            if (runs_alike(a, b, shift)) return true;
        return false;
    }

    bool operator()(const ProfileNumbers& a, const ProfileNumbers& b) const {
        return (*this)(a.outer, b.outer) && all_paired(a.holes, b.holes);
    }

    /// Has each of `a` a partner of its own in `b`? Both are sorted by their place first, so that
    /// few come into question.
    template <class Item>
    bool all_paired(const std::vector<Item>& a, const std::vector<Item>& b) const {
        if (a.size() != b.size()) return false;
        std::vector<Placed<Item>> left = placed(a), right = placed(b);
        std::vector<char> taken(right.size(), 0);
        std::size_t first = 0;
        for (const Placed<Item>& item : left) {
            while (first < right.size() && right[first].place < item.place - near_) ++first;
            std::size_t k = first;
            while (k < right.size() && right[k].place <= item.place + near_ &&
                   (taken[k] || !(*this)(*item.item, *right[k].item)))
                ++k;
            if (k == right.size() || right[k].place > item.place + near_) return false;
            taken[k] = 1;
        }
        return true;
    }

  private:
    template <class Item>
    struct Placed {
        double place;
        const Item* item;
    };

    static double place_of(const ContourNumbers& contour) {
        double least = INFINITY;
        for (const CurveNumbers& curve : contour) least = std::min(least, curve.start().x());
        return least;
    }
    static double place_of(const ProfileNumbers& profile) { return place_of(profile.outer); }

    template <class Item>
    static std::vector<Placed<Item>> placed(const std::vector<Item>& items) {
        std::vector<Placed<Item>> result;
        for (const Item& item : items) result.push_back({place_of(item), &item});
        std::stable_sort(result.begin(), result.end(),
                         [](const auto& x, const auto& y) { return x.place < y.place; });
        return result;
    }

    bool runs_alike(const ContourNumbers& a, const ContourNumbers& b, std::size_t shift) const {
        for (std::size_t i = 0; i < a.size(); ++i)
            if (!are_one(a[i], b[(i + shift) % b.size()])) return false;
        return true;
    }

    bool are_one(const CurveNumbers& a, const CurveNumbers& b) const {
        return a.tag == b.tag && a.degree == b.degree &&
               std::equal(a.lengths.begin(), a.lengths.end(), b.lengths.begin(), b.lengths.end(),
                          [this](double x, double y) { return std::abs(x - y) <= near_; });
    }

    double near_;
};

bool are_one(const ProfileSet& a, const ProfileSet& b, double support) {
    const SetNumbers left = detail::numbers_of(a, support);
    const SetNumbers right = detail::numbers_of(b, support);
    const Comparison same(equal_lengths * std::min(1.0, left.size));
    return same.all_paired(left.profiles, right.profiles) &&
           same.all_paired(left.marks, right.marks);
}

}  // namespace

bool operator==(const ProfileSet& a, const ProfileSet& b) {
    if (a.profiles().size() != b.profiles().size() || a.marks().size() != b.marks().size())
        return false;
    // A joint that is straight to within the bound of one may be bent by the noise of the other:
    // then both are straight, or both bent, at another bound.
    constexpr double wider_support = 20.0 * detail::same_support;
    return are_one(a, b, detail::same_support) || are_one(a, b, wider_support);
}

}  // namespace planform
