#include "drawing/chaining.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <utility>

#include "drawing/loose_ends.hpp"
#include "grid/fuzzy_index.hpp"

namespace planform::drawing {
namespace {

/// One end of a part: 2 * part for its start, 2 * part + 1 for its end.
using End = int;
int part_of(End end) { return end / 2; }
End other_end(End end) { return end ^ 1; }

class Chainer {
  public:
    Chainer(const std::vector<Part>& parts, const std::vector<Curve>& curves,
            std::span<const int> groups, const ClosingOptions& options)
        : parts_(parts), curves_(curves), groups_(groups), options_(options) {}

    Chaining run() {
        weld();
        measure_runs();
        join_loose_ends();
        peel();
        trace();
        return std::move(result_);
    }

  private:
    static std::size_t at(int index) { return static_cast<std::size_t>(index); }

    Point2 place(End end) const {
        const Curve& curve = curves_[at(part_of(end))];
        return end % 2 == 0 ? start_point(curve) : end_point(curve);
    }
    int node(End end) const { return nodes_[at(end)]; }
    int degree(int node) const { return static_cast<int>(ends_at_[at(node)].size()); }

    // --- nodes -----------------------------------------------------------------------------------

    void weld() {
        grid::FuzzyIndex<2> index({options_.joint, options_.joint});
        nodes_.resize(2 * parts_.size());
        for (std::size_t end = 0; end < nodes_.size(); ++end) {
            const Point2 point = place(static_cast<End>(end));
            nodes_[end] = index.find_or_add({point.x(), point.y()});
        }
        ends_at_.resize(index.size());
        for (std::size_t end = 0; end < nodes_.size(); ++end)
            ends_at_[at(nodes_[end])].push_back(static_cast<End>(end));
        is_used_.assign(parts_.size(), false);
    }

    /// The end that alone follows this one at its node; -1 at a loose end or where several meet.
    End follower(End end) const {
        const std::vector<End>& ends = ends_at_[at(node(end))];
        if (ends.size() != 2) return -1;
        return ends[0] == end ? ends[1] : ends[0];
    }

    /// Runs are parts that follow each other with nothing else about; a part knows the length of
    /// its run, and a loose end the end at the other side.
    void measure_runs() {
        run_length_.assign(parts_.size(), -1.0);
        far_end_.assign(2 * parts_.size(), -1);
        std::vector<int> members;
        for (std::size_t first = 0; first < parts_.size(); ++first) {
            if (run_length_[first] >= 0.0) continue;
            members.clear();
            const End begin = walk_run(static_cast<End>(2 * first), nullptr);
            const End finish = walk_run(other_end(begin), &members);
            double sum = 0.0;
            for (const int member : members) sum += length(curves_[at(member)]);
            for (const int member : members) run_length_[at(member)] = sum;
            far_end_[at(begin)] = finish;
            far_end_[at(finish)] = begin;
        }
    }

    /// Goes from an end's part on through that end until the run stops or comes round again;
    /// returns the last end. `members`: filled with all parts gone over.
    End walk_run(End end, std::vector<int>* members) const {
        const End first = end;
        while (true) {
            if (members) members->push_back(part_of(end));
            const End next = follower(end);
            if (next < 0) return end;
            end = other_end(next);
            if (end == first) return end;
        }
    }

    // --- gaps ------------------------------------------------------------------------------------

    std::vector<LooseEnd> loose_ends() const {
        std::vector<LooseEnd> loose;
        for (std::size_t n = 0; n < ends_at_.size(); ++n) {
            if (ends_at_[n].size() % 2 == 0) continue;
            const End end = ends_at_[n].front();
            LooseEnd entry;
            entry.id = end;
            entry.place = place(end);
            entry.node = static_cast<int>(n);
            entry.is_junction = ends_at_[n].size() > 1;
            if (!entry.is_junction) {
                const End far = far_end_[at(end)];
                entry.run_length = run_length_[at(part_of(end))];
                entry.run = std::min(end, far);
                entry.far_node = node(far);
            }
            loose.push_back(entry);
        }
        return loose;
    }

    void join_loose_ends() {
        const std::vector<LooseEnd> loose = loose_ends();
        const double limit = std::max(options_.gap, options_.rounding);
        for (const LoosePair& pair : paired_ends(loose, std::max(limit, gap_reach))) {
            const bool swapped = loose[pair.second].is_junction;
            const LooseEnd& a = loose[swapped ? pair.second : pair.first];
            const LooseEnd& b = loose[swapped ? pair.first : pair.second];
            const bool joined = pair.distance <= limit;
            if (joined) {
                join(a.id, b.id);
            } else {
                is_facing_.push_back(a.id);
                is_facing_.push_back(b.id);
            }
            if (pair.distance <= options_.rounding) continue;
            result_.gaps.push_back(
                {parts_[at(part_of(a.id))].source, parts_[at(part_of(b.id))].source, a.place,
                 b.place, pair.distance, joined ? Gap::Closing::extended : Gap::Closing::open});
        }
        std::sort(is_facing_.begin(), is_facing_.end());
    }

    void join(End a, End b) {
        const int kept = node(a), gone = node(b);
        ends_at_[at(kept)].push_back(b);
        ends_at_[at(gone)].clear();
        nodes_[at(b)] = kept;
    }

    // --- open chains -----------------------------------------------------------------------------

    void take(int part) {
        is_used_[at(part)] = true;
        for (const End end : {2 * part, 2 * part + 1}) {
            std::vector<End>& ends = ends_at_[at(node(end))];
            ends.erase(std::find(ends.begin(), ends.end(), end));
        }
    }

    /// Takes off what hangs loose, from its loose ends inwards.
    void peel() {
        std::vector<int> loose_nodes;
        std::vector<std::pair<int, std::size_t>> hanging;  // node, open chain
        for (std::size_t n = 0; n < ends_at_.size(); ++n)
            if (ends_at_[n].size() == 1) loose_nodes.push_back(static_cast<int>(n));
        for (std::size_t i = 0; i < loose_nodes.size(); ++i) {
            int here = loose_nodes[i];
            if (degree(here) != 1) continue;
            Trail trail;
            while (degree(here) == 1) {
                const End end = ends_at_[at(here)].front();
                trail.push_back({part_of(end), end % 2 == 0});
                here = node(other_end(end));
                take(part_of(end));
            }
            const bool attached = degree(here) > 0;
            add_open(trail, attached);
            if (attached && result_.open.back().stray)
                hanging.emplace_back(here, result_.open.size() - 1);
        }
        tell_outlines_from_strays(hanging);
    }

    /// Two chains that hang on one place are an outline with a part missing that touches another
    /// one there, rather than two strays.
    void tell_outlines_from_strays(std::vector<std::pair<int, std::size_t>>& hanging) {
        std::stable_sort(hanging.begin(), hanging.end(),
                         [](const auto& a, const auto& b) { return a.first < b.first; });
        for (std::size_t i = 0; i + 1 < hanging.size(); ++i) {
            if (hanging[i].first != hanging[i + 1].first) continue;
            OpenChain &a = result_.open[hanging[i].second],
                      &b = result_.open[hanging[i + 1].second];
            a.stray = b.stray = false;
            result_.gaps.push_back({a.curves.front(), b.curves.front(), a.start, b.start,
                                    (a.start - b.start).norm(), Gap::Closing::open});
        }
    }

    void add_open(const Trail& trail, bool attached) {
        OpenChain chain;
        chain.length = 0.0;
        const End first =
            trail.front().forward ? 2 * trail.front().part : 2 * trail.front().part + 1;
        const End last = trail.back().forward ? 2 * trail.back().part + 1 : 2 * trail.back().part;
        chain.start = place(first);
        chain.end = place(last);
        double area = 0.0;
        Point2 before = chain.start;
        for (const Step& step : trail) {
            const int source = parts_[at(step.part)].source;
            if (chain.curves.empty() || chain.curves.back() != source)
                chain.curves.push_back(source);
            const Curve& curve = curves_[at(step.part)];
            chain.pieces.push_back(step.forward ? curve : reversed(curve));
            chain.sources.push_back(source);
            chain.length += length(curve);
            const double swept = swept_area(curve, chain.start);
            area += step.forward ? swept : -swept;
            const Point2 next = place(step.forward ? 2 * step.part : 2 * step.part + 1);
            area += 0.5 * cross(before - chain.start, next - chain.start);
            before = place(step.forward ? 2 * step.part + 1 : 2 * step.part);
        }
        const bool bounds_nothing = std::abs(area) < least_area_share * chain.length * chain.length;
        const bool faces_another =
            std::binary_search(is_facing_.begin(), is_facing_.end(), first) ||
            std::binary_search(is_facing_.begin(), is_facing_.end(), last);
        chain.stray = !faces_another && (attached || chain.curves.size() == 1 || bounds_nothing);
        if (!chain.stray && !faces_another) {
            add_open_end(first, last, attached);
        }
        result_.open.push_back(std::move(chain));
        result_.hangs.push_back(attached);
    }

    /// An outline with a part missing: how far its ends are from each other.
    void add_open_end(End first, End last, bool attached) {
        Gap gap{parts_[at(part_of(first))].source,
                attached ? -1 : parts_[at(part_of(last))].source,
                place(first),
                attached ? place(first) : place(last),
                attached ? std::numeric_limits<double>::infinity()
                         : (place(last) - place(first)).norm(),
                Gap::Closing::open};
        result_.gaps.push_back(gap);
    }

    // --- loops -----------------------------------------------------------------------------------

    int group(int part) const {
        const int source = parts_[at(part)].source;
        return groups_.empty() ? source : groups_[at(source)];
    }

    /// Where to go on at a node: with the same group, else along the longest run, else in the order
    /// of the curves. -1 if nothing is left there.
    End next_end(int node, int from_part) const {
        End best = -1;
        for (const End end : ends_at_[at(node)]) {
            if (best < 0 || goes_before(end, best, from_part)) best = end;
        }
        return best;
    }
    bool goes_before(End a, End b, int from_part) const {
        const int part_a = part_of(a), part_b = part_of(b);
        if (from_part >= 0) {
            const bool same_a = group(part_a) == group(from_part);
            const bool same_b = group(part_b) == group(from_part);
            if (same_a != same_b) return same_a;
        }
        const double run_a = run_length_[at(part_a)], run_b = run_length_[at(part_b)];
        return run_a != run_b ? run_a > run_b : a < b;
    }

    /// Trails that start where an odd number of curves meet can only stop at another such place;
    /// all others come back to where they started.
    void trace() {
        for (std::size_t n = 0; n < ends_at_.size(); ++n)
            while (ends_at_[n].size() % 2 == 1) trace_from(static_cast<int>(n));
        for (std::size_t part = 0; part < parts_.size(); ++part)
            while (!is_used_[part]) trace_from(node(static_cast<End>(2 * part)));
    }

    /// Follows the curves from a node; each time a node comes up again, what lies between is a
    /// loop.
    void trace_from(int start) {
        Trail trail;
        std::vector<int> visited = {start};  // nodes: before each step, and after the last
        set_position(start, 0);
        int here = start;
        while (true) {
            const End end = next_end(here, trail.empty() ? -1 : trail.back().part);
            if (end < 0) break;
            trail.push_back({part_of(end), end % 2 == 0});
            here = node(other_end(end));
            take(part_of(end));
            const int seen = position(here);
            if (seen < 0) {
                set_position(here, static_cast<int>(trail.size()));
                visited.push_back(here);
                continue;
            }
            result_.loops.emplace_back(trail.begin() + seen, trail.end());
            for (std::size_t i = at(seen) + 1; i < visited.size(); ++i)
                set_position(visited[i], -1);
            visited.resize(at(seen) + 1);
            trail.resize(at(seen));
        }
        for (const int node : visited) set_position(node, -1);
        if (!trail.empty()) add_open(trail, true);
    }

    int position(int node) const {
        return at(node) < positions_.size() ? positions_[at(node)] : -1;
    }
    void set_position(int node, int value) {
        if (positions_.empty()) positions_.assign(ends_at_.size(), -1);
        positions_[at(node)] = value;
    }

    const std::vector<Part>& parts_;
    const std::vector<Curve>& curves_;
    std::span<const int> groups_;
    const ClosingOptions& options_;
    std::vector<int> nodes_;                 // by end
    std::vector<std::vector<End>> ends_at_;  // by node: ends of parts that are not yet used
    std::vector<bool> is_used_;              // by part
    std::vector<double> run_length_;         // by part, mm
    std::vector<End> far_end_;               // by end of a run: that at the other side
    std::vector<End> is_facing_;             // sorted: ends at gaps that stay open
    std::vector<int> positions_;             // by node: its place in the trail, -1
    Chaining result_;
};

}  // namespace

Chaining chain(const std::vector<Part>& parts, const std::vector<Curve>& curves,
               std::span<const int> groups, const ClosingOptions& options) {
    return Chainer(parts, curves, groups, options).run();
}

}  // namespace planform::drawing
