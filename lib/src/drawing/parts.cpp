#include "drawing/parts.hpp"

#include <algorithm>
#include <cstdint>
#include <numeric>

#include "drawing/overlap.hpp"
#include "grid/box_grid.hpp"
#include "grid/box_tree.hpp"

namespace planform::drawing {
namespace {

std::vector<Box2> boxes_of(std::span<const Curve> curves, double margin) {
    std::vector<Box2> boxes;
    boxes.reserve(curves.size());
    const Vector2 grown = Vector2::Constant(margin);
    for (const Curve& curve : curves) {
        const Box2 box = bounds(curve);
        boxes.emplace_back(box.min() - grown, box.max() + grown);
    }
    return boxes;
}

/// Curves that agree in kind, ends and middle lie in a heap now and then, whole drawings pasted
/// twice: found by the tree pair by pair, from the longest down, each is looked at once.
class Divider {
  public:
    Divider(std::span<const Curve> curves, const std::vector<bool>& usable,
            const ClosingOptions& options)
        : curves_(curves),
          usable_(usable),
          options_(options),
          covered_(curves.size()),
          stops_(curves.size()),
          is_gone_(curves.size(), false),
          holds_(curves.size(), false) {}

    DistinctParts run() {
        find_doubles();
        for (std::size_t i = 0; i < curves_.size(); ++i)
            if (usable_[i] && !is_gone_[i]) divide(i);
        return std::move(result_);
    }

  private:
    /// A stretch of a curve that lies on another one.
    struct Found {
        std::size_t curve;
        std::size_t other;
        Interval stretch;
        double length;  // mm
    };

    void find_doubles() {
        lengths_.reserve(curves_.size());
        for (const Curve& curve : curves_) lengths_.push_back(length(curve));
        std::vector<std::size_t> order(curves_.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::stable_sort(order.begin(), order.end(),
                         [&](std::size_t a, std::size_t b) { return lengths_[a] > lengths_[b]; });
        rank_.resize(curves_.size());
        for (std::size_t i = 0; i < order.size(); ++i) rank_[order[i]] = i;

        const std::vector<Box2> boxes = boxes_of(curves_, options_.same);
        const grid::BoxGrid grid(boxes);
        const std::vector<grid::GridBox> on_grid = grid(boxes);
        const grid::BoxTree tree(on_grid);
        std::vector<std::size_t> near;
        for (const std::size_t keeper : order) {
            if (!usable_[keeper] || is_gone_[keeper]) continue;
            near.clear();
            tree.for_each_overlap(on_grid[keeper], [&](std::int32_t found) {
                const auto other = static_cast<std::size_t>(found);
                if (rank_[other] > rank_[keeper] && usable_[other] && !is_gone_[other])
                    near.push_back(other);
            });
            std::sort(near.begin(), near.end());
            for (const std::size_t other : near)
                if (!is_gone_[keeper]) compare(other, keeper);
        }
        note_doubles();
    }

    /// True if a curve is the next one of those that a longer one runs along: the longer one is
    /// covered up to where this one starts or ends.
    bool goes_on_with(std::size_t longer, std::size_t index) const {
        return std::any_of(
            covered_[longer].begin(), covered_[longer].end(), [&](const Interval& stretch) {
                for (const double t : {stretch.first, stretch.last}) {
                    const Point2 stop = point_at(curves_[longer], t);
                    if ((start_point(curves_[index]) - stop).norm() <= options_.same ||
                        (end_point(curves_[index]) - stop).norm() <= options_.same)
                        return true;
                }
                return false;
            });
    }

    /// Of two curves on each other the longer one stays, but for one that lies on a longer one
    /// itself and, after that, on the next one of the outline: it is what was drawn once too often,
    /// and is left out on both. What is kept for that stays from then on (`holds_`), so that no
    /// place loses all its curves.
    bool gives_way(std::size_t longer, std::size_t index) const {
        if (holds_[longer]) return false;
        return holds_[index] || goes_on_with(longer, index);
    }

    /// Notes where one of two curves lies on the other.
    void compare(std::size_t index, std::size_t longer) {
        const bool swapped = gives_way(longer, index) &&
                             !overlaps(curves_[index], curves_[longer], options_.same).empty();
        if (swapped) {
            holds_[index] = true;
            cover(longer, index);
        } else {
            cover(index, longer);
        }
    }

    void cover(std::size_t index, std::size_t keeper) {
        const Curve& curve = curves_[index];
        for (const Overlap& overlap : overlaps(curve, curves_[keeper], options_.same)) {
            const Interval stretch = overlap.on_curve;
            const Interval all = domain(curve);
            const bool whole = stretch.first <= all.first && stretch.last >= all.last;
            found_.push_back(
                {index, keeper, stretch,
                 whole ? lengths_[index] : length(trimmed(curve, stretch.first, stretch.last))});
            covered_[index].push_back(stretch);
            if (whole) is_gone_[index] = true;
            // Where the covered curve ends, others may go on: the keeper can be left there.
            for (const Point2& point : {start_point(curve), end_point(curve)}) {
                const double t = nearest_parameter(curves_[keeper], point);
                if ((point_at(curves_[keeper], t) - point).norm() <= options_.same)
                    stops_[keeper].push_back(t);
            }
            if (whole) return;
        }
    }

    /// Stretches of one curve that follow each other, each on another curve, are one double: it
    /// names the curve under the longest of them.
    void note_doubles() {
        std::stable_sort(found_.begin(), found_.end(), [](const Found& a, const Found& b) {
            return a.curve != b.curve ? a.curve < b.curve : a.stretch.first < b.stretch.first;
        });
        for (std::size_t i = 0; i < found_.size();) {
            const Found& first = found_[i];
            const Found* longest = &first;
            Interval all = first.stretch;
            double sum = first.length;
            for (++i; i < found_.size() && follows(all, first.curve, found_[i]); ++i) {
                all.last = std::max(all.last, found_[i].stretch.last);
                sum += found_[i].length;
                if (found_[i].length > longest->length) longest = &found_[i];
            }
            const Curve& curve = curves_[first.curve];
            const Interval range = domain(curve);
            result_.doubles.push_back({static_cast<int>(first.curve),
                                       static_cast<int>(longest->other), point_at(curve, all.first),
                                       point_at(curve, all.last), sum,
                                       all.first <= range.first && all.last >= range.last});
        }
    }

    bool follows(const Interval& stretch, std::size_t curve, const Found& next) const {
        return next.curve == curve && (point_at(curves_[curve], stretch.last) -
                                       point_at(curves_[curve], next.stretch.first))
                                              .norm() <= options_.same;
    }

    bool is_covered(std::size_t index, double t) const {
        return std::any_of(covered_[index].begin(), covered_[index].end(),
                           [&](const Interval& i) { return i.first < t && t < i.last; });
    }

    void divide(std::size_t index) {
        const Curve& curve = curves_[index];
        const Interval range = domain(curve);
        std::vector<double> breaks = stops_[index];
        for (const Interval& stretch : covered_[index]) {
            breaks.push_back(stretch.first);
            breaks.push_back(stretch.last);
        }
        std::sort(breaks.begin(), breaks.end());
        double from = range.first;
        const Point2 last = end_point(curve);
        const auto close_part = [&](double to) {
            if (!is_covered(index, 0.5 * (from + to)))
                result_.parts.push_back({static_cast<int>(index), from, to});
            from = to;
        };
        for (const double t : breaks) {
            const Point2 place = point_at(curve, t);
            if (t > from && (place - point_at(curve, from)).norm() > options_.joint &&
                (place - last).norm() > options_.joint)
                close_part(t);
        }
        close_part(range.last);
    }

    std::span<const Curve> curves_;
    const std::vector<bool>& usable_;
    const ClosingOptions& options_;
    std::vector<double> lengths_;
    std::vector<std::size_t> rank_;               // by curve: its place from the longest down
    std::vector<std::vector<Interval>> covered_;  // by curve: stretches that lie on longer ones
    std::vector<std::vector<double>> stops_;      // by curve: where those on it end
    std::vector<bool> is_gone_;                   // by curve: all of it is covered
    std::vector<bool> holds_;                     // by curve: a longer one gave way to it
    std::vector<Found> found_;
    DistinctParts result_;
};

}  // namespace

DistinctParts distinct_parts(std::span<const Curve> curves, const std::vector<bool>& usable,
                             const ClosingOptions& options) {
    return Divider(curves, usable, options).run();
}

bool is_whole(const Curve& source, const Part& part) {
    const Interval all = domain(source);
    return part.from <= all.first && part.to >= all.last;
}

Curve curve_of(const Curve& source, const Part& part) {
    return is_whole(source, part) ? source : trimmed(source, part.from, part.to);
}

}  // namespace planform::drawing
