#include "arrange/recovery/recovery.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <set>

#include "arrange/recovery/closing.hpp"
#include "arrange/recovery/corners.hpp"
#include "arrange/recovery/settled_runs.hpp"

namespace planform::arrange {
namespace {

/// A loop with less area than this many cells times its perimeter is two curves that are one.
constexpr double thinnest_loop = 4.0;

class Recovery {
  public:
    Recovery(const RecoveryInput& input, RecoveredLoops& known) : in_(input), known_(known) {}

    RecoveryResult run() {
        std::vector<int> new_index(in_.boundary.loops.size(), -1);
        std::vector<std::size_t> kept;
        for (const std::size_t i : outer_loops_first()) {
            const BoundaryLoop& source = in_.boundary.loops[i];
            // What lies in a loop below the resolution does so, too.
            if (source.hole && new_index[static_cast<std::size_t>(source.parent)] < 0) continue;
            if (is_below_resolution(source)) continue;
            const RecoveredLoop& found = once_recovered(source);
            refine_.insert(found.refine.begin(), found.refine.end());
            if (found.is_nothing) continue;
            new_index[i] = static_cast<int>(result_.loops.size());
            kept.push_back(i);
            result_.loops.push_back(found.loop);
        }
        for (std::size_t i = 0; i < result_.loops.size(); ++i) {
            const int parent = in_.boundary.loops[kept[i]].parent;
            result_.loops[i].parent = parent < 0 ? -1 : new_index[static_cast<std::size_t>(parent)];
        }
        result_.refine.assign(refine_.begin(), refine_.end());
        return std::move(result_);
    }

  private:
    std::vector<std::size_t> outer_loops_first() const {
        std::vector<std::size_t> order(in_.boundary.loops.size());
        for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
        std::stable_partition(order.begin(), order.end(),
                              [&](std::size_t i) { return !in_.boundary.loops[i].hole; });
        return order;
    }

    const RecoveredLoop& once_recovered(const BoundaryLoop& source) {
        const std::uint64_t mark = mark_of(source);
        if (in_.last_try) known_.erase(mark);
        const auto [place, is_new] = known_.try_emplace(mark);
        if (is_new) place->second = recovered(source);
        return place->second;
    }

    std::uint64_t mark_of(const BoundaryLoop& loop) const {
        std::uint64_t mark = 1;
        for (const std::int32_t e : loop.edges) {
            mark = mixed(mark, arrange::mark_of(in_.boundary, edge(e)));
            for (std::int32_t s = edge(e).first_stretch; s < edge(e).last_stretch; ++s) {
                const Stretch& stretch = in_.boundary.stretches[static_cast<std::size_t>(s)];
                mark = mixed(mark, 2 * static_cast<std::uint64_t>(stretch.segment) + stretch.along);
            }
        }
        return mark;
    }

    RecoveredLoop recovered(const BoundaryLoop& source) {
        std::set<int> of_others;
        refine_.swap(of_others);
        RecoveredLoop result{recover_loop(source), {}, false};
        result.loop.hole = source.hole;
        check_area(source, result.loop);
        result.is_nothing = is_nothing(source, result.loop);
        refine_.swap(of_others);
        result.refine.assign(of_others.begin(), of_others.end());
        return result;
    }

    const Carrier& carrier(int index) const {
        return in_.set.carriers[static_cast<std::size_t>(index)];
    }
    const BoundaryEdge& edge(std::int32_t index) const {
        return in_.boundary.edges[static_cast<std::size_t>(index)];
    }
    const grid::GridPoint& vertex(std::int32_t index) const {
        return in_.boundary.vertices[static_cast<std::size_t>(index)];
    }

    /// A loop no wider than the rounding of its own edges: two curves that are one on this grid.
    bool is_below_resolution(const BoundaryLoop& loop) const {
        const auto [area, perimeter] = polygon_measures(loop);
        return std::abs(area) <= thinnest_loop * perimeter;
    }

    /// Chords can enclose something where the curves only touch.
    bool is_nothing(const BoundaryLoop& source, const Loop& loop) {
        const double area = source.hole ? -exact_area(loop) : exact_area(loop);
        const double cell = in_.grid.cell();
        const double least = thinnest_loop * polygon_measures(source).second * cell * cell;
        if (area > least) return false;
        // Turned inside out by more than that: the corners are not where the chords put them.
        if (area < -least) ask_for_refinement(source);
        return true;
    }

    static double exact_area(const Loop& loop) {
        if (loop.curves.empty()) return 0.0;
        const Point2 pivot = start_point(loop.curves.front());
        double area = 0.0;
        for (const Curve& curve : loop.curves) area += swept_area(curve, pivot);
        return area;
    }

    /// Signed area and perimeter of a loop's polygon, in cells.
    std::pair<double, double> polygon_measures(const BoundaryLoop& loop) const {
        const grid::GridPoint& origin = vertex(edge(loop.edges.front()).from);
        double doubled = 0.0, perimeter = 0.0;
        for (const std::int32_t e : loop.edges) {
            const grid::GridPoint& a = vertex(edge(e).from);
            const grid::GridPoint& b = vertex(edge(e).to);
            doubled += static_cast<double>(grid::orientation(origin, a, b));
            perimeter += length(edge(e));
        }
        return {0.5 * doubled, perimeter};
    }

    /// In cells.
    double length(const BoundaryEdge& e) const {
        const grid::GridPoint &a = vertex(e.from), &b = vertex(e.to);
        return std::hypot(static_cast<double>(b.x - a.x), static_cast<double>(b.y - a.y));
    }

    Loop recover_loop(const BoundaryLoop& source) {
        const SettledRuns settled = settled_runs(in_, find_runs(in_, source));
        for (const int suspect : settled.suspects) ask_for_refinement(suspect);
        for (const int carrier : settled.overreaching) ask_for_refinement(carrier);
        if (!settled.suspects.empty() && in_.last_try)
            result_.failed_at = in_.grid.position(vertex(edge(source.edges[0]).from));
        Loop loop;
        for (const Run& run : settled.runs) {
            if (run.begin == run.end) continue;
            loop.curves.push_back(carrier(run.carrier).piece(run.begin, run.end));
            loop.tags.push_back(run.tag);
        }
        close_gaps(loop, in_.grid, in_.kept_gaps);
        return loop;
    }

    void ask_for_refinement(int carrier_index) {
        if (!in_.last_try && carrier(carrier_index).kind != Carrier::Kind::line)
            refine_.insert(carrier_index);
    }

    void ask_for_refinement(const BoundaryLoop& source) {
        for (const std::int32_t e : source.edges)
            for (std::int32_t s = edge(e).first_stretch; s < edge(e).last_stretch; ++s) {
                const Stretch& stretch = in_.boundary.stretches[static_cast<std::size_t>(s)];
                const ChordTag& tag = in_.chords.tags[static_cast<std::size_t>(stretch.segment)];
                ask_for_refinement(in_.set.pieces[static_cast<std::size_t>(tag.piece)].carrier);
            }
    }

    /// The exact loop and its polygon differ by no more than the chords may stray.
    void check_area(const BoundaryLoop& source, const Loop& loop) {
        const double cell = in_.grid.cell();
        double widest = 0.0, strip = 0.0;
        for (const std::int32_t e : source.edges) {
            const Stretch& s =
                in_.boundary.stretches[static_cast<std::size_t>(edge(e).first_stretch)];
            const ChordTag& tag = in_.chords.tags[static_cast<std::size_t>(s.segment)];
            const double stray = std::max(resolution(in_.grid), tag.tolerance);
            widest = std::max(widest, stray);
            strip += stray * cell * length(edge(e));
        }
        const double cells = polygon_measures(source).first;
        const double bound = 2.0 * strip + 16.0 * widest * widest;
        if (std::abs(exact_area(loop) - cells * cell * cell) <= bound) return;
        ask_for_refinement(source);
        if (in_.last_try) result_.failed_at = in_.grid.position(vertex(edge(source.edges[0]).from));
    }

    const RecoveryInput& in_;
    RecoveredLoops& known_;
    RecoveryResult result_;
    std::set<int> refine_;
};

}  // namespace

RecoveryResult recover(const RecoveryInput& input, RecoveredLoops& known) {
    return Recovery(input, known).run();
}

}  // namespace planform::arrange
