#include "arrange/recovery/runs.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

namespace planform::arrange {
namespace {

/// One boundary edge seen as a stretch of one carrier.
struct Candidate {
    int carrier;
    bool forward;
    int tag;
    double begin;
    double end;
    bool begin_at_node;
    bool end_at_node;
    double tolerance;
    int piece;
};

/// Two stretches of a carrier go on into each other if no more than this many cells lie between:
/// vertices are rounded, and their places along chords are found by proportion.
constexpr double most_jump = 4.0;

class RunFinder {
  public:
    RunFinder(const RecoveryInput& input, const BoundaryLoop& loop) : in_(input), loop_(loop) {}

    std::vector<Run> find() {
        const std::size_t count = loop_.edges.size();
        collect_candidates();
        // Begin at a corner if there is one, so that no run is cut in two by the start.
        std::size_t start = 0;
        for (std::size_t i = 0; i < count; ++i) {
            if (!any_continuation((i + count - 1) % count, i)) {
                start = i;
                break;
            }
        }
        std::vector<Run> runs;
        std::optional<Candidate> previous;
        for (std::size_t k = 0; k < count; ++k) {
            const std::size_t i = (start + k) % count;
            const BoundaryEdge& e = edge(i);
            const Candidate* next = previous ? continuation(*previous, i) : nullptr;
            if (next) {
                extend(runs.back(), *next, e);
            } else {
                next = best_start(start, k);
                runs.push_back(begin_run(*next, e));
            }
            previous = *next;
        }
        join_ends(runs);
        return runs;
    }

  private:
    const Carrier& carrier(int index) const {
        return in_.set.carriers[static_cast<std::size_t>(index)];
    }
    const BoundaryEdge& edge(std::size_t place) const {
        return in_.boundary.edges[static_cast<std::size_t>(loop_.edges[place])];
    }
    const grid::GridPoint& vertex(std::int32_t index) const {
        return in_.boundary.vertices[static_cast<std::size_t>(index)];
    }

    /// For every edge of the loop all that runs along it, the simplest carrier first; among equals
    /// the first of the input.
    void collect_candidates() {
        first_.reserve(loop_.edges.size() + 1);
        candidates_.reserve(loop_.edges.size());
        for (std::size_t i = 0; i < loop_.edges.size(); ++i) {
            const BoundaryEdge& e = edge(i);
            first_.push_back(candidates_.size());
            for (std::int32_t s = e.first_stretch; s < e.last_stretch; ++s)
                candidates_.push_back(
                    candidate(in_.boundary.stretches[static_cast<std::size_t>(s)], e));
            if (e.last_stretch - e.first_stretch < 2) continue;
            std::stable_sort(candidates_.begin() + static_cast<std::ptrdiff_t>(first_.back()),
                             candidates_.end(), [&](const Candidate& a, const Candidate& b) {
                                 const auto kind_a = carrier(a.carrier).kind;
                                 const auto kind_b = carrier(b.carrier).kind;
                                 return kind_a != kind_b ? kind_a < kind_b : a.carrier < b.carrier;
                             });
        }
        first_.push_back(candidates_.size());
    }

    Candidate candidate(const Stretch& stretch, const BoundaryEdge& e) const {
        const auto s = static_cast<std::size_t>(stretch.segment);
        const GridSegment& segment = in_.chords.segments[s];
        const ChordTag& chord = in_.chords.tags[s];
        const Piece& piece = in_.set.pieces[static_cast<std::size_t>(chord.piece)];
        Candidate c{piece.carrier, stretch.along, piece.tag,       0.0,        0.0,
                    false,         false,         chord.tolerance, chord.piece};
        c.begin = parameter_at(segment, chord, vertex(e.from));
        c.end = parameter_at(segment, chord, vertex(e.to));
        c.begin_at_node = c.begin == piece.from || c.begin == piece.to;
        c.end_at_node = c.end == piece.from || c.end == piece.to;
        return c;
    }

    /// Parameter of a vertex on a chord: exact at the chord's ends, else by proportion.
    static double parameter_at(const GridSegment& segment, const ChordTag& chord,
                               const grid::GridPoint& point) {
        if (point == segment.start) return chord.from;
        if (point == segment.end) return chord.to;
        const auto dx = static_cast<double>(segment.end.x - segment.start.x);
        const auto dy = static_cast<double>(segment.end.y - segment.start.y);
        const double along = static_cast<double>(point.x - segment.start.x) * dx +
                             static_cast<double>(point.y - segment.start.y) * dy;
        const double fraction = std::clamp(along / (dx * dx + dy * dy), 0.0, 1.0);
        return chord.from + fraction * (chord.to - chord.from);
    }

    bool continues(int carrier_index, bool forward, double end, const Candidate& after) const {
        if (carrier_index != after.carrier || forward != after.forward) return false;
        const Carrier& c = carrier(carrier_index);
        if (after.begin == end) return true;
        const double shift =
            c.is_periodic() ? full_turn * std::round((end - after.begin) / full_turn) : 0.0;
        return c.extent(end, after.begin + shift) <= most_jump * in_.grid.cell();
    }

    bool continues(const Candidate& before, const Candidate& after) const {
        return continues(before.carrier, before.forward, before.end, after);
    }

    const Candidate* continuation(const Candidate& before, std::size_t place) const {
        for (std::size_t i = first_[place]; i < first_[place + 1]; ++i)
            if (continues(before, candidates_[i])) return &candidates_[i];
        return nullptr;
    }

    bool any_continuation(std::size_t before, std::size_t after) const {
        for (std::size_t i = first_[before]; i < first_[before + 1]; ++i)
            if (continuation(candidates_[i], after)) return true;
        return false;
    }

    /// Of several carriers that could begin here: the one that goes on longest, the simplest if
    /// equal.
    const Candidate* best_start(std::size_t start, std::size_t k) const {
        const std::size_t count = loop_.edges.size();
        const std::size_t here = (start + k) % count;
        const Candidate* best = &candidates_[first_[here]];
        if (first_[here + 1] - first_[here] == 1) return best;
        std::size_t best_length = 0;
        for (std::size_t i = first_[here]; i < first_[here + 1]; ++i) {
            std::size_t length = 1;
            const Candidate* last = &candidates_[i];
            while (k + length < count) {
                const Candidate* next = continuation(*last, (start + k + length) % count);
                if (!next) break;
                last = next;
                ++length;
            }
            if (length > best_length) {
                best = &candidates_[i];
                best_length = length;
            }
        }
        return best;
    }

    Vector2 along(const BoundaryEdge& e) const {
        const grid::GridPoint &a = vertex(e.from), &b = vertex(e.to);
        return {static_cast<double>(b.x - a.x), static_cast<double>(b.y - a.y)};
    }

    Run begin_run(const Candidate& c, const BoundaryEdge& e) const {
        return {c.carrier,
                c.forward,
                c.tag,
                c.begin,
                c.end,
                c.begin_at_node,
                c.end_at_node,
                in_.grid.position(vertex(e.from)),
                in_.grid.position(vertex(e.to)),
                along(e),
                along(e),
                c.tolerance,
                c.tolerance,
                c.piece,
                c.piece};
    }

    void extend(Run& run, const Candidate& c, const BoundaryEdge& e) const {
        // A run over the seam of a circle goes on counting.
        const double shift = carrier(run.carrier).is_periodic()
                                 ? full_turn * std::round((run.end - c.begin) / full_turn)
                                 : 0.0;
        run.end = c.end + shift;
        run.end_at_node = c.end_at_node;
        run.end_vertex = in_.grid.position(vertex(e.to));
        run.end_edge = along(e);
        run.end_tolerance = c.tolerance;
        run.end_piece = c.piece;
    }

    /// The last run may go on into the first where every vertex had some continuation.
    void join_ends(std::vector<Run>& runs) const {
        if (runs.size() < 2) return;
        Run& first = runs.front();
        const Run& last = runs.back();
        const Candidate after{first.carrier, first.forward, first.tag, first.begin, 0.0,
                              false,         false,         0.0,       -1};
        if (!continues(last.carrier, last.forward, last.end, after)) return;
        const double shift = carrier(first.carrier).is_periodic()
                                 ? full_turn * std::round((last.end - first.begin) / full_turn)
                                 : 0.0;
        first.begin = last.begin - shift;
        first.begin_at_node = last.begin_at_node;
        first.begin_vertex = last.begin_vertex;
        first.begin_edge = last.begin_edge;
        first.begin_tolerance = last.begin_tolerance;
        first.begin_piece = last.begin_piece;
        runs.pop_back();
    }

    const RecoveryInput& in_;
    const BoundaryLoop& loop_;
    std::vector<Candidate> candidates_;
    std::vector<std::size_t> first_;  // by place in the loop, into candidates_; one more at the end
};

}  // namespace

std::vector<Run> find_runs(const RecoveryInput& input, const BoundaryLoop& loop) {
    return RunFinder(input, loop).find();
}

}  // namespace planform::arrange
