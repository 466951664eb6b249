#include "arrange/recovery.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <optional>
#include <set>

namespace planform::arrange {
namespace {

// Notation: a run is a maximal stretch of one loop along one carrier in one direction; its `begin`
// and `end` are parameters on the carrier, begin > end where the loop runs against the carrier.

struct Run {
    int carrier;
    bool forward;
    int tag;
    double begin;
    double end;
    bool begin_at_node;  ///< begins at an end of its piece, so the parameter is exact
    bool end_at_node;
    Point2 begin_vertex;  ///< where the arrangement put the corner
    Point2 end_vertex;
    double turned;  ///< sum of |change of parameter|, to tell how often a circle is gone round
};

/// One boundary edge seen as a stretch of one carrier.
struct Candidate {
    int carrier;
    bool forward;
    int tag;
    double begin;
    double end;
    bool begin_at_node;
    bool end_at_node;
};

constexpr double full_turn = 2.0 * pi;

bool is_periodic(const Carrier& carrier) {
    return carrier.kind == Carrier::Kind::circle || carrier.kind == Carrier::Kind::ellipse;
}

bool is_spline(const Carrier& carrier) { return carrier.kind == Carrier::Kind::spline; }

class Recovery {
  public:
    explicit Recovery(const RecoveryInput& input) : in_(input) {}

    RecoveryResult run() {
        std::vector<int> new_index(in_.boundary.loops.size(), -1);
        std::vector<int> parents;
        for (std::size_t i = 0; i < in_.boundary.loops.size(); ++i) {
            const BoundaryLoop& source = in_.boundary.loops[i];
            if (is_below_resolution(source)) continue;
            Loop loop = recover_loop(source);
            if (loop.curves.empty()) continue;
            check_area(source, loop);
            new_index[i] = static_cast<int>(result_.loops.size());
            loop.hole = source.hole;
            parents.push_back(source.parent);
            result_.loops.push_back(std::move(loop));
        }
        for (std::size_t i = 0; i < result_.loops.size(); ++i)
            result_.loops[i].parent =
                parents[i] < 0 ? -1 : new_index[static_cast<std::size_t>(parents[i])];
        result_.refine.assign(refine_.begin(), refine_.end());
        return std::move(result_);
    }

  private:
    const Carrier& carrier(int index) const {
        return in_.set.carriers[static_cast<std::size_t>(index)];
    }
    const BoundaryEdge& edge(std::int32_t index) const {
        return in_.boundary.edges[static_cast<std::size_t>(index)];
    }
    const GridPoint& vertex(std::int32_t index) const {
        return in_.boundary.vertices[static_cast<std::size_t>(index)];
    }
    double tolerance(int carrier_index) const {
        return in_.tolerances[static_cast<std::size_t>(carrier_index)];
    }

    /// A loop no wider than the rounding of its own edges: two curves that are one on this grid.
    bool is_below_resolution(const BoundaryLoop& loop) const {
        const auto [area, perimeter] = polygon_measures(loop);
        return std::abs(area) <= 1.5 * perimeter;
    }

    /// Signed area and perimeter of a loop's polygon, in cells.
    std::pair<double, double> polygon_measures(const BoundaryLoop& loop) const {
        const GridPoint& origin = vertex(edge(loop.edges.front()).from);
        double doubled = 0.0, perimeter = 0.0;
        for (const std::int32_t e : loop.edges) {
            const GridPoint& a = vertex(edge(e).from);
            const GridPoint& b = vertex(edge(e).to);
            doubled += static_cast<double>(orientation(origin, a, b));
            perimeter += std::hypot(static_cast<double>(b.x - a.x), static_cast<double>(b.y - a.y));
        }
        return {0.5 * doubled, perimeter};
    }

    Candidate candidate(const Stretch& stretch, const BoundaryEdge& e) const {
        const auto s = static_cast<std::size_t>(stretch.segment);
        const GridSegment& segment = in_.chords.segments[s];
        const ChordTag& chord = in_.chords.tags[s];
        const Piece& piece = in_.set.pieces[static_cast<std::size_t>(chord.piece)];
        Candidate c{piece.carrier, stretch.along, piece.tag, 0.0, 0.0, false, false};
        c.begin = parameter_at(segment, chord, vertex(e.from));
        c.end = parameter_at(segment, chord, vertex(e.to));
        c.begin_at_node = c.begin == piece.from || c.begin == piece.to;
        c.end_at_node = c.end == piece.from || c.end == piece.to;
        return c;
    }

    /// Parameter of a vertex on a chord: exact at the chord's ends, else by proportion.
    static double parameter_at(const GridSegment& segment, const ChordTag& chord,
                               const GridPoint& point) {
        if (point == segment.start) return chord.from;
        if (point == segment.end) return chord.to;
        const auto dx = static_cast<double>(segment.end.x - segment.start.x);
        const auto dy = static_cast<double>(segment.end.y - segment.start.y);
        const double along = static_cast<double>(point.x - segment.start.x) * dx +
                             static_cast<double>(point.y - segment.start.y) * dy;
        const double fraction = std::clamp(along / (dx * dx + dy * dy), 0.0, 1.0);
        return chord.from + fraction * (chord.to - chord.from);
    }

    std::vector<Candidate> candidates(std::int32_t e) const {
        std::vector<Candidate> result;
        for (std::int32_t s = edge(e).first_stretch; s < edge(e).last_stretch; ++s)
            result.push_back(
                candidate(in_.boundary.stretches[static_cast<std::size_t>(s)], edge(e)));
        // The simplest carrier first; among equals the first of the input.
        std::stable_sort(result.begin(), result.end(), [&](const Candidate& a, const Candidate& b) {
            const auto kind_a = carrier(a.carrier).kind, kind_b = carrier(b.carrier).kind;
            return kind_a != kind_b ? kind_a < kind_b : a.carrier < b.carrier;
        });
        return result;
    }

    bool continues(const Candidate& before, const Candidate& after) const {
        if (before.carrier != after.carrier || before.forward != after.forward) return false;
        double jump = std::abs(after.begin - before.end);
        if (is_periodic(carrier(before.carrier)))
            jump = std::abs(jump - full_turn * std::round(jump / full_turn));
        const double speed = carrier(before.carrier).direction(before.end).norm();
        return jump * speed <= 4.0 * in_.grid.cell() || jump == 0.0;
    }

    const Candidate* continuation(const Candidate& before,
                                  const std::vector<Candidate>& options) const {
        for (const Candidate& option : options)
            if (continues(before, option)) return &option;
        return nullptr;
    }

    bool any_continuation(const std::vector<Candidate>& before,
                          const std::vector<Candidate>& after) const {
        return std::any_of(before.begin(), before.end(),
                           [&](const Candidate& c) { return continuation(c, after) != nullptr; });
    }

    std::vector<Run> find_runs(const BoundaryLoop& loop) const {
        const std::size_t count = loop.edges.size();
        std::vector<std::vector<Candidate>> options;
        options.reserve(count);
        for (const std::int32_t e : loop.edges) options.push_back(candidates(e));
        // Begin at a corner if there is one, so that no run is cut in two by the start.
        std::size_t start = 0;
        for (std::size_t i = 0; i < count; ++i) {
            if (!any_continuation(options[(i + count - 1) % count], options[i])) {
                start = i;
                break;
            }
        }
        std::vector<Run> runs;
        std::optional<Candidate> previous;
        for (std::size_t k = 0; k < count; ++k) {
            const std::size_t i = (start + k) % count;
            const BoundaryEdge& e = edge(loop.edges[i]);
            const Candidate* next = previous ? continuation(*previous, options[i]) : nullptr;
            if (next) {
                extend(runs.back(), *next, e);
            } else {
                next = best_start(options, start, k, count);
                runs.push_back(begin_run(*next, e));
            }
            previous = *next;
        }
        join_ends(runs);
        return runs;
    }

    /// Of several carriers that could begin here: the one that goes on longest, the simplest if
    /// equal.
    const Candidate* best_start(const std::vector<std::vector<Candidate>>& options,
                                std::size_t start, std::size_t k, std::size_t count) const {
        const std::vector<Candidate>& here = options[(start + k) % count];
        const Candidate* best = &here.front();
        std::size_t best_length = 0;
        if (here.size() == 1) return best;
        for (const Candidate& option : here) {
            std::size_t length = 1;
            Candidate last = option;
            while (k + length < count) {
                const Candidate* next = continuation(last, options[(start + k + length) % count]);
                if (!next) break;
                last = *next;
                ++length;
            }
            if (length > best_length) {
                best = &option;
                best_length = length;
            }
        }
        return best;
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
                std::abs(c.end - c.begin)};
    }

    void extend(Run& run, const Candidate& c, const BoundaryEdge& e) const {
        run.turned += std::abs(c.end - c.begin);
        run.end = is_periodic(carrier(run.carrier))
                      ? run.begin + (run.forward ? run.turned : -run.turned)
                      : c.end;
        run.end_at_node = c.end_at_node;
        run.end_vertex = in_.grid.position(vertex(e.to));
    }

    /// The last run may go on into the first where every vertex had some continuation.
    void join_ends(std::vector<Run>& runs) const {
        if (runs.size() < 2) return;
        Run& first = runs.front();
        const Run& last = runs.back();
        const Candidate before{last.carrier, last.forward, last.tag, 0.0, last.end, false, false};
        const Candidate after{first.carrier, first.forward, first.tag, first.begin,
                              0.0,           false,         false};
        if (!continues(before, after)) return;
        const double shift = is_periodic(carrier(first.carrier))
                                 ? full_turn * std::round((last.end - first.begin) / full_turn)
                                 : 0.0;
        first.begin = last.begin - shift;
        first.begin_at_node = last.begin_at_node;
        first.begin_vertex = last.begin_vertex;
        first.turned += last.turned;
        runs.pop_back();
    }

    Loop recover_loop(const BoundaryLoop& source) {
        std::vector<Run> runs = find_runs(source);
        drop_tiny_runs(runs);
        Loop loop;
        if (runs.empty()) return loop;
        if (runs.size() == 1 && is_closed_carrier(runs.front())) {
            close_on_itself(runs.front());
        } else {
            for (std::size_t i = 0; i < runs.size(); ++i)
                set_corner(runs[i], runs[(i + 1) % runs.size()]);
        }
        for (std::size_t i = 0; i < runs.size(); ++i) {
            const Run& run = runs[i];
            if (run.begin == run.end || (run.begin < run.end) != run.forward) {
                // The corners of a short run have passed each other.
                ask_for_refinement(run.carrier);
                continue;
            }
            loop.curves.push_back(carrier(run.carrier).piece(run.begin, run.end));
            loop.tags.push_back(run.tag);
        }
        close_gaps(loop);
        return loop;
    }

    bool is_closed_carrier(const Run& run) const {
        const Carrier& c = carrier(run.carrier);
        if (is_periodic(c)) return run.turned > 0.5 * full_turn;
        return c.kind == Carrier::Kind::spline;
    }

    void close_on_itself(Run& run) const {
        if (is_periodic(carrier(run.carrier)))
            run.end = run.begin + (run.forward ? full_turn : -full_turn);
    }

    /// Runs shorter than the grid resolves come from rounding where several curves meet.
    void drop_tiny_runs(std::vector<Run>& runs) const {
        for (std::size_t i = 0; i < runs.size() && runs.size() > 2;) {
            const double size = (runs[i].end_vertex - runs[i].begin_vertex).norm();
            const double speed = carrier(runs[i].carrier).direction(runs[i].begin).norm();
            if (std::max(size, runs[i].turned * speed) > 3.0 * in_.grid.cell()) {
                ++i;
                continue;
            }
            Run& before = runs[(i + runs.size() - 1) % runs.size()];
            Run& after = runs[(i + 1) % runs.size()];
            if (runs[i].begin_at_node && !runs[i].end_at_node) {
                after.begin_vertex = runs[i].begin_vertex;
            } else {
                before.end_vertex = runs[i].end_vertex;
            }
            before.end_at_node = after.begin_at_node = false;
            runs.erase(runs.begin() + static_cast<std::ptrdiff_t>(i));
        }
    }

    /// Makes the end of one run and the beginning of the next the same true point.
    void set_corner(Run& before, Run& after) {
        const Point2 here = 0.5 * (before.end_vertex + after.begin_vertex);
        const double reach =
            tolerance(before.carrier) + tolerance(after.carrier) + 4.0 * in_.grid.cell();
        if (before.end_at_node && after.begin_at_node &&
            (position(before.carrier, before.end) - position(after.carrier, after.begin)).norm() <=
                node_gap())
            return;
        if (const auto crossing = crossing_at(before, after)) {
            const Vector2 u = carrier(before.carrier).direction(before.end).normalized();
            const Vector2 v = carrier(after.carrier).direction(after.begin).normalized();
            const double sine = std::max(1e-6, std::abs(cross(u, v)));
            if ((crossing->point - here).norm() <= reach / sine) {
                before.end = crossing->t;
                after.begin = crossing->u;
                return;
            }
        }
        meet_at_vertex(before, after, here);
    }

    /// Gap in mm between the ends of two curves at a node of the input that counts as none.
    double node_gap() const { return 1e-3 * in_.grid.cell(); }

    Point2 position(int carrier_index, double parameter) const {
        return carrier(carrier_index).position(parameter);
    }

    /// Tangent curves, or curves whose chords cross where they don't: the point that is there
    /// serves both, if it is as good as a point on both.
    void meet_at_vertex(Run& before, Run& after, Point2 here) {
        if (before.end_at_node) here = position(before.carrier, before.end);
        if (after.begin_at_node) here = position(after.carrier, after.begin);
        if (!before.end_at_node)
            before.end = carrier(before.carrier).parameter_near(here, before.end);
        if (!after.begin_at_node)
            after.begin = carrier(after.carrier).parameter_near(here, after.begin);
        const double gap =
            (position(before.carrier, before.end) - position(after.carrier, after.begin)).norm();
        if (gap > 4.0 * in_.grid.cell()) {
            ask_for_refinement(before.carrier);
            ask_for_refinement(after.carrier);
        }
    }

    /// The crossing of the two carriers next to the corner, wherever it lies on them: whether it is
    /// near enough is for the caller to say.
    std::optional<Crossing> crossing_at(const Run& before, const Run& after) const {
        if (before.carrier == after.carrier && !is_spline(carrier(before.carrier)))
            return std::nullopt;
        const Stage a = stage(before, before.end);
        const Stage b = stage(after, after.begin);
        constexpr double anywhere = std::numeric_limits<double>::infinity();
        auto crossing = refine_crossing(a.curve, a.guess, b.curve, b.guess, anywhere);
        if (!crossing) return std::nullopt;
        crossing->t =
            carrier(before.carrier).parameter_near(crossing->point, a.on_carrier(crossing->t));
        crossing->u =
            carrier(after.carrier).parameter_near(crossing->point, b.on_carrier(crossing->u));
        return crossing;
    }

    /// A run's curve as Newton's method wants it, with the map from its parameter to the carrier's.
    struct Stage {
        Curve curve;
        double guess;
        double offset;
        double scale;

        double on_carrier(double parameter) const { return offset + scale * parameter; }
    };

    /// Lines: the run itself, so that a step may be as long as half of it. Others: the carrier.
    Stage stage(const Run& run, double guess) const {
        const Carrier& c = carrier(run.carrier);
        if (c.kind == Carrier::Kind::line) {
            const double size = run.end - run.begin;
            if (size == 0.0) return {c.curve, guess, 0.0, 1.0};
            return {c.piece(run.begin, run.end), (guess - run.begin) / size, run.begin, size};
        }
        const double scale = is_periodic(c) ? full_turn : 1.0;
        return {c.curve, guess / scale, 0.0, scale};
    }

    void ask_for_refinement(int carrier_index) {
        if (!in_.last_try && carrier(carrier_index).kind != Carrier::Kind::line)
            refine_.insert(carrier_index);
    }

    /// Lines and splines take the exact end of their neighbour; between two arcs that stop a
    /// rounding apart a straight piece of that size goes in.
    void close_gaps(Loop& loop) const {
        std::vector<Curve> curves;
        std::vector<int> tags;
        const std::size_t count = loop.curves.size();
        for (std::size_t i = 0; i < count; ++i) {
            Curve& here = loop.curves[i];
            Curve& next = loop.curves[(i + 1) % count];
            const Point2 end = end_point(here);
            const Point2 start = start_point(next);
            curves.push_back(here);
            tags.push_back(loop.tags[i]);
            if (end == start || count == 1) continue;
            if (takes_ends(next)) {
                if (i + 1 == count) {
                    curves.front() = with_ends(curves.front(), end, end_point(curves.front()));
                } else {
                    next = with_ends(next, end, end_point(next));
                }
            } else if (takes_ends(here)) {
                curves.back() = with_ends(here, start_point(here), start);
            } else if ((end - start).norm() > node_gap()) {
                curves.push_back(Line{end, start});
                tags.push_back(loop.tags[i]);
            }
        }
        loop.curves = std::move(curves);
        loop.tags = std::move(tags);
    }

    static bool takes_ends(const Curve& curve) {
        return std::holds_alternative<Line>(curve) || std::holds_alternative<Spline>(curve);
    }

    /// The exact loop and its polygon differ by no more than the chords may stray.
    void check_area(const BoundaryLoop& source, const Loop& loop) {
        const auto [cells, perimeter] = polygon_measures(source);
        const double cell = in_.grid.cell();
        double area = 0.0, stray = 4.0 * cell;
        for (const Curve& curve : loop.curves) area += swept_area(curve);
        for (const std::int32_t e : source.edges) {
            const Stretch& s =
                in_.boundary.stretches[static_cast<std::size_t>(edge(e).first_stretch)];
            const ChordTag& tag = in_.chords.tags[static_cast<std::size_t>(s.segment)];
            stray = std::max(
                stray, tolerance(in_.set.pieces[static_cast<std::size_t>(tag.piece)].carrier));
        }
        const double bound = 2.0 * perimeter * cell * stray + 16.0 * stray * stray;
        if (std::abs(area - cells * cell * cell) <= bound) return;
        for (const std::int32_t e : source.edges)
            for (std::int32_t s = edge(e).first_stretch; s < edge(e).last_stretch; ++s) {
                const Stretch& stretch = in_.boundary.stretches[static_cast<std::size_t>(s)];
                const ChordTag& tag = in_.chords.tags[static_cast<std::size_t>(stretch.segment)];
                ask_for_refinement(in_.set.pieces[static_cast<std::size_t>(tag.piece)].carrier);
            }
        if (in_.last_try) result_.failed_at = in_.grid.position(vertex(edge(source.edges[0]).from));
    }

    const RecoveryInput& in_;
    RecoveryResult result_;
    std::set<int> refine_;
};

}  // namespace

RecoveryResult recover(const RecoveryInput& input) { return Recovery(input).run(); }

}  // namespace planform::arrange
