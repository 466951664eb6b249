#include "merge/gaps.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>

namespace planform::merge {
namespace {

/// Places looked at on one outline: at least, and at most.
constexpr int fewest_places = 64;
constexpr int most_places = 512;
/// Gaps that differ by less than this (mm, and relative) are the same: far above rounding, far
/// below what matters.
constexpr double same_gap = 1e-6;

/// Finds nearest points on a contour.
class NearestPoint {
  public:
    explicit NearestPoint(const Contour& contour) : contour_(contour) {
        for (const Curve& curve : contour.curves()) boxes_.push_back(bounds(curve));
    }

    Point2 operator()(const Point2& target) const {
        Point2 nearest = Point2::Zero();
        double least = std::numeric_limits<double>::infinity();
        for (std::size_t i = 0; i < boxes_.size(); ++i) {
            if (boxes_[i].exteriorDistance(target) >= least) continue;
            const Curve& curve = contour_.curves()[i];
            const Point2 point = point_at(curve, nearest_parameter(curve, target));
            const double distance = (point - target).norm();
            if (distance >= least) continue;
            least = distance;
            nearest = point;
        }
        return nearest;
    }

  private:
    const Contour& contour_;
    std::vector<Box2> boxes_;
};

class GapFinder {
  public:
    GapFinder(const Contour& island, const Contour& around, double spacing)
        : on_island_(island), on_around_(around) {
        look_at(island, spacing);
    }

    std::vector<Gap> run() const {
        std::vector<Gap> minima, others = gaps_;
        for (std::size_t first = 0; first < gaps_.size(); ++first)
            if (const std::size_t size = plateau_from(first); size > 0)
                minima.push_back(refined(gaps_[(first + size / 2) % gaps_.size()]));
        if (minima.empty()) minima.push_back(rightmost());  // the gap is the same all round
        sort(minima);
        sort(others);
        minima.insert(minima.end(), others.begin(), others.end());
        return minima;
    }

  private:
    void look_at(const Contour& island, double spacing) {
        const double whole = island.length();
        const double step = std::clamp(spacing, whole / most_places, whole / fewest_places);
        double before = 0.0;
        for (const Curve& curve : island.curves()) {
            const double size = length(curve);
            const Interval range = domain(curve);
            const int count = std::max(2, static_cast<int>(std::ceil(size / step)));
            for (int i = 0; i < count; ++i) {
                const double share = (i + 0.5) / count;
                const Point2 from =
                    point_at(curve, range.first + share * (range.last - range.first));
                gaps_.push_back(gap(from, (before + share * size) / whole));
            }
            before += size;
        }
    }

    Gap gap(const Point2& from, double place) const {
        const Point2 to = on_around_(from);
        return {from, to, (to - from).norm(), place};
    }

    static bool same(const Gap& a, const Gap& b) {
        return std::abs(a.size - b.size) <= same_gap * (1.0 + std::min(a.size, b.size));
    }

    /// Number of places from this one on with the same gap if the gap grows on both sides, else 0.
    std::size_t plateau_from(std::size_t first) const {
        const std::size_t count = gaps_.size();
        const Gap& start = gaps_[first];
        const Gap& before = gaps_[(first + count - 1) % count];
        if (same(before, start) || before.size < start.size) return 0;
        std::size_t size = 1;
        while (size < count && same(start, gaps_[(first + size) % count])) ++size;
        return gaps_[(first + size) % count].size > start.size ? size : 0;
    }

    Gap rightmost() const {
        return *std::max_element(gaps_.begin(), gaps_.end(), [](const Gap& a, const Gap& b) {
            return a.from.x() < b.from.x();
        });
    }

    /// The nearest point of one outline, then of the other, and so on: to the least gap nearby.
    Gap refined(Gap found) const {
        for (int step = 0; step < 200; ++step) {
            const Gap next = gap(on_island_(found.to), found.place);
            const double moved = (next.from - found.from).norm();
            if (next.size > found.size) break;
            found = next;
            if (moved <= 1e-10) break;
        }
        return found;
    }

    static void sort(std::vector<Gap>& gaps) {
        const auto steps = [](const Gap& gap) { return std::llround(gap.size / same_gap); };
        std::stable_sort(gaps.begin(), gaps.end(),
                         [&](const Gap& a, const Gap& b) { return steps(a) < steps(b); });
    }

    NearestPoint on_island_;
    NearestPoint on_around_;
    std::vector<Gap> gaps_;
};

}  // namespace

std::vector<Gap> gaps_between(const Contour& island, const Contour& around, double spacing) {
    return GapFinder(island, around, spacing).run();
}

}  // namespace planform::merge
