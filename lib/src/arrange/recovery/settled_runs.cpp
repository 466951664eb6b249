#include "arrange/recovery/settled_runs.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <utility>

#include "arrange/carriers/carrier_places.hpp"
#include "arrange/carriers/spikes.hpp"
#include "arrange/recovery/corners.hpp"

namespace planform::arrange {
namespace {

/// Runs shorter than this many cells come from rounding where several curves meet, if they are also
/// shorter than this share of the tolerance: on large inputs cells are no small share of it.
constexpr double tiny_run = 10.0;
constexpr double tiny_run_per_tolerance = 0.1;

/// The runs of one loop with their corners; runs that turn out to be nothing are taken out.
class RunRing {
  public:
    RunRing(const RecoveryInput& input, std::vector<Run> runs)
        : in_(input), runs_(std::move(runs)), corners_(runs_.size()) {}

    /// Finds corners and takes out what is nothing; returns the suspects of SettledRuns.
    std::vector<int> settle() {
        drop_tiny();
        for (std::size_t i = 0; i < runs_.size(); ++i) set_corner(i);
        // Each change takes a run out; what comes before it may change again.
        for (std::size_t i = 0, unchanged = 0; runs_.size() > 1 && unchanged < runs_.size();) {
            if (reduce(i)) {
                unchanged = 0;
                i = i < runs_.size() ? previous(i) : 0;
            } else {
                ++unchanged;
                i = next(i);
            }
        }
        for (std::size_t i = 0; i < runs_.size();)
            if (!drop_unresolved(i)) ++i;
        if (runs_.size() == 1)
            close_single();
        else
            for (Run& run : runs_) cut_spikes(run);
        return suspects();
    }

    const std::vector<Run>& runs() const { return runs_; }

    /// As in SettledRuns.
    std::vector<int> overreaching() const {
        std::vector<int> carriers;
        if (runs_.size() < 2) return carriers;
        for (std::size_t i = 0; i < runs_.size(); ++i) {
            const Run& run = runs_[i];
            if (!leaves(run.begin, run.begin_piece) && !leaves(run.end, run.end_piece)) continue;
            for (const std::size_t k : {previous(i), i, next(i)})
                carriers.push_back(runs_[k].carrier);
        }
        return carriers;
    }

  private:
    std::size_t next(std::size_t i) const { return (i + 1) % runs_.size(); }
    std::size_t previous(std::size_t i) const { return (i + runs_.size() - 1) % runs_.size(); }
    const Carrier& carrier(const Run& run) const {
        return in_.set.carriers[static_cast<std::size_t>(run.carrier)];
    }
    Point2 begin_of(const Run& run) const { return carrier(run).position(run.begin); }
    Point2 end_of(const Run& run) const { return carrier(run).position(run.end); }

    /// Is a place on a carrier outside its piece, and outside all others of that carrier?
    bool leaves(double parameter, int piece) const {
        if (piece < 0) return false;
        const Piece& own = in_.set.pieces[static_cast<std::size_t>(piece)];
        if (holds(own, parameter)) return false;
        return std::none_of(in_.set.pieces.begin(), in_.set.pieces.end(), [&](const Piece& other) {
            return other.carrier == own.carrier && holds(other, parameter);
        });
    }

    bool holds(const Piece& piece, double parameter) const {
        const Carrier& c = in_.set.carriers[static_cast<std::size_t>(piece.carrier)];
        const double middle = 0.5 * (piece.from + piece.to);
        const double shift =
            c.is_periodic() ? full_turn * std::round((middle - parameter) / full_turn) : 0.0;
        const double at = parameter + shift, nearest = std::clamp(at, piece.from, piece.to);
        return nearest == at || c.extent(nearest, at) <= resolution(in_.grid);
    }

    static bool has_passed(const Run& run) {
        return run.begin == run.end || (run.begin < run.end) != run.forward;
    }

    double size(const Run& run) const { return carrier(run).extent(run.begin, run.end); }

    /// What counts as none of a gap, in mm: what the grid can't resolve; on the last try half of
    /// the tolerance, which the result still keeps.
    double most_gap() const {
        return in_.last_try ? std::max(resolution(in_.grid), 0.5 * in_.tolerance)
                            : resolution(in_.grid);
    }

    std::vector<int> suspects() const {
        std::vector<int> carriers;
        if (runs_.size() < 2) return carriers;
        for (std::size_t i = 0; i < runs_.size(); ++i) {
            const Corner& corner = corners_[i];
            const bool gapes = corner.gap > most_gap() && !corner.at_node;
            if (!gapes && !has_passed(runs_[i])) continue;
            for (const std::size_t k : {previous(i), i, next(i)})
                carriers.push_back(runs_[k].carrier);
        }
        return carriers;
    }

    /// Makes one of run i and the next if they go on into each other; takes it out if it is
    /// nothing, or one with a neighbour as far as the grid tells.
    bool reduce(std::size_t i) {
        if (are_one(runs_[i], runs_[next(i)])) {
            join_with_next(i);
            return true;
        }
        const bool passed = has_passed(runs_[i]);
        const double extent = size(runs_[i]);
        if (passed && extent <= most_gap()) {
            collapse(i);
        } else if ((passed || !corners_[previous(i)].is_exact || turns_back(previous(i))) &&
                   lies_on(runs_[i], runs_[previous(i)])) {
            give_to_previous(i);
        } else if ((passed || !corners_[i].is_exact || turns_back(i)) &&
                   lies_on(runs_[i], runs_[next(i)])) {
            give_to_next(i);
        } else if (is_crumb(i, previous(i))) {
            give_to_previous(i);
        } else if (is_crumb(i, next(i))) {
            give_to_next(i);
        } else {
            return false;
        }
        take_out(i);
        return true;
    }

    /// Beside a tangency chords cross again and again where their curves are one to the last digit:
    /// none of these corners is false, and none is wanted.
    bool is_crumb(std::size_t i, std::size_t neighbour) const {
        constexpr double longest = 1e4, one_curve = 2e-3;  // cells
        return size(runs_[i]) <= longest * in_.grid.cell() &&
               lies_on(runs_[i], runs_[neighbour], one_curve * in_.grid.cell());
    }

    void set_corner(std::size_t i) {
        Run& before = runs_[i];
        Run& after = runs_[next(i)];
        const Corner corner = find_corner(in_, before, after);
        before.end = corner.end;
        after.begin = corner.begin;
        corners_[i] = corner;
    }

    void drop_tiny() {
        const double tiny =
            std::min(tiny_run * in_.grid.cell(), tiny_run_per_tolerance * in_.tolerance);
        for (std::size_t i = 0; i < runs_.size() && runs_.size() > 2;) {
            const double extent =
                std::max((runs_[i].end_vertex - runs_[i].begin_vertex).norm(), size(runs_[i]));
            if (extent > tiny) {
                ++i;
                continue;
            }
            Run& before = runs_[previous(i)];
            Run& after = runs_[next(i)];
            if (runs_[i].begin_at_node && !runs_[i].end_at_node) {
                after.begin_vertex = runs_[i].begin_vertex;
            } else {
                before.end_vertex = runs_[i].end_vertex;
            }
            before.end_at_node = after.begin_at_node = false;
            erase(i);
        }
    }

    /// Does the next run go back along run i from the corner between them? If so the two can
    /// enclose a spike that is thinner than the grid resolves, its corner a true crossing all the
    /// same.
    bool turns_back(std::size_t i) const {
        constexpr double nearly_straight_back = -0.99;
        const Run &before = runs_[i], &after = runs_[next(i)];
        const Vector2 u = carrier(before).direction(before.end).normalized();
        const Vector2 v = carrier(after).direction(after.begin).normalized();
        return (before.forward == after.forward ? u.dot(v) : -u.dot(v)) < nearly_straight_back;
    }

    /// Takes out a run shorter than a cell, no curve that a machine could follow, unless its
    /// neighbours don't meet without it.
    bool drop_unresolved(std::size_t i) {
        if (runs_.size() < 2 || size(runs_[i]) > in_.grid.cell()) return false;
        if (runs_.size() == 2 && !goes_round(runs_[next(i)])) return false;
        const std::vector<Run> runs = runs_;
        const std::vector<Corner> corners = corners_;
        collapse(i);
        take_out(i);
        if (suspects().empty()) return true;
        runs_ = runs;
        corners_ = corners;
        return false;
    }

    void cut_spikes(Run& run) const {
        const double reach = resolution(in_.grid);
        run.begin = past_spike(carrier(run), run.begin, run.end, reach);
        run.end = past_spike(carrier(run), run.end, run.begin, reach);
    }

    /// Is the run a whole circle or ellipse but for what the grid can't resolve?
    bool goes_round(const Run& run) const {
        const Carrier& c = carrier(run);
        if (!c.is_periodic() || has_passed(run)) return false;
        const double whole = run.begin + (run.forward ? full_turn : -full_turn);
        return c.extent(run.end, whole) <= resolution(in_.grid);
    }

    /// Can a run not be told apart from another? Where the corner between them is no true one, or
    /// the run has become backward, two curves that are one on this grid have changed places by
    /// their chords.
    bool lies_on(const Run& run, const Run& other) const {
        return lies_on(run, other, resolution(in_.grid));
    }

    /// The feet on `other` of the ends of a stretch of a carrier that lies on it within `near` mm.
    static std::optional<Interval> feet_along(const Carrier& own, double from, double to,
                                              const Carrier& other, double guess, double near) {
        constexpr int steps_of_span = 8;
        std::optional<double> first;
        for (const double t : places_along(own, from, to, steps_of_span)) {
            const Point2 point = own.position(t);
            guess = other.parameter_near(point, guess);
            if ((other.position(guess) - point).norm() > near) return std::nullopt;
            if (!first) first = guess;
        }
        return Interval{*first, guess};
    }

    /// The same within `near` mm.
    bool lies_on(const Run& run, const Run& other, double near) const {
        if (run.carrier == other.carrier) return false;
        const std::optional<Interval> feet = feet_along(
            carrier(run), run.begin, run.end, carrier(other), nearer_end(run, other), near);
        // What a spline does between two feet is seen by its own places alone.
        if (!feet || (carrier(other).kind == Carrier::Kind::spline &&
                      !feet_along(carrier(other), feet->first, feet->last, carrier(run), run.begin,
                                  2.0 * near)))
            return false;
        const double guess = feet->last;
        // Where the two run against each other, the shorter is a spike on the longer.
        return same_way(run, run.end, other, guess) || size(run) < size(other);
    }

    /// Where one comes to on the curve of `other`, from its parameter `at`, on the way along a run
    /// that lies on it: on a circle the nearest parameter alone would take the shorter way round.
    double followed(const Run& run, double from, double to, const Run& other, double at) const {
        constexpr int steps = 8;
        for (int k = 1; k <= steps; ++k)
            at = carrier(other).parameter_near(
                carrier(run).position(from + (to - from) * k / steps), at);
        return at;
    }

    bool same_way(const Run& a, double at_a, const Run& b, double at_b) const {
        const double along = carrier(a).direction(at_a).dot(carrier(b).direction(at_b));
        return (along > 0.0) == (a.forward == b.forward);
    }

    /// The end of `other` that is nearer to where `run` begins.
    double nearer_end(const Run& run, const Run& other) const {
        const Point2 point = begin_of(run);
        return (begin_of(other) - point).norm() < (end_of(other) - point).norm() ? other.begin
                                                                                 : other.end;
    }

    /// Both neighbours go as far as the middle of run i.
    void collapse(std::size_t i) {
        const Point2 middle = 0.5 * (begin_of(runs_[i]) + end_of(runs_[i]));
        move_end(runs_[previous(i)], middle);
        move_begin(runs_[next(i)], middle);
    }

    /// The place of a run's corner with the next: the vertex, unless curves tell it better.
    Point2 corner_at_end(std::size_t i) const {
        return corners_[i].is_exact ? end_of(runs_[i]) : runs_[i].end_vertex;
    }

    void give_to_previous(std::size_t i) {
        Run& before = runs_[previous(i)];
        const Point2 place = corner_at_end(i);
        before.end_at_node = false;
        before.end = followed(runs_[i], runs_[i].begin, runs_[i].end, before, before.end);
        move_end(before, place);
        runs_[next(i)].begin_vertex = place;
        before.end_edge = runs_[i].end_edge;
        before.end_tolerance = std::max(before.end_tolerance, runs_[i].end_tolerance);
        before.end_piece = -1;
    }

    void give_to_next(std::size_t i) {
        Run& after = runs_[next(i)];
        const Point2 place = corner_at_end(previous(i));
        after.begin_at_node = false;
        after.begin = followed(runs_[i], runs_[i].end, runs_[i].begin, after, after.begin);
        move_begin(after, place);
        runs_[previous(i)].end_vertex = place;
        after.begin_edge = runs_[i].begin_edge;
        after.begin_tolerance = std::max(after.begin_tolerance, runs_[i].begin_tolerance);
        after.begin_piece = -1;
    }

    void move_end(Run& run, const Point2& place) const {
        run.end_vertex = place;
        if (!run.end_at_node) run.end = carrier(run).parameter_near(place, run.end);
    }

    void move_begin(Run& run, const Point2& place) const {
        run.begin_vertex = place;
        if (!run.begin_at_node) run.begin = carrier(run).parameter_near(place, run.begin);
    }

    /// The neighbours of run i become neighbours of each other.
    void take_out(std::size_t i) {
        if (runs_.size() == 2) {
            erase(i);
            return;
        }
        const std::size_t first = previous(i);
        erase(i);
        set_corner(first > i ? first - 1 : first);
    }

    bool are_one(const Run& before, const Run& after) const {
        if (before.carrier != after.carrier || before.forward != after.forward) return false;
        if ((end_of(before) - begin_of(after)).norm() > 2.0 * resolution(in_.grid)) return false;
        // A spline may come by the same place twice.
        const Carrier& c = carrier(before);
        return c.kind != Carrier::Kind::spline ||
               c.extent(before.end, after.begin) <= 4.0 * resolution(in_.grid);
    }

    void join_with_next(std::size_t i) {
        Run& before = runs_[i];
        const Run& after = runs_[next(i)];
        const double shift = carrier(before).is_periodic()
                                 ? full_turn * std::round((before.end - after.begin) / full_turn)
                                 : 0.0;
        before.end = after.end + shift;
        before.end_at_node = after.end_at_node;
        before.end_vertex = after.end_vertex;
        before.end_edge = after.end_edge;
        before.end_tolerance = after.end_tolerance;
        before.end_piece = after.end_piece;
        corners_[i] = corners_[next(i)];
        erase(next(i));
    }

    void erase(std::size_t i) {
        runs_.erase(runs_.begin() + static_cast<std::ptrdiff_t>(i));
        corners_.erase(corners_.begin() + static_cast<std::ptrdiff_t>(i));
    }

    /// A loop of one run goes once round a circle or ellipse, or along a spline that meets itself;
    /// else nothing is left of it.
    void close_single() {
        Run& run = runs_.front();
        const Carrier& c = carrier(run);
        if (c.is_periodic()) {
            run.end = run.begin + (run.forward ? full_turn : -full_turn);
        } else if (c.kind != Carrier::Kind::spline || has_passed(run)) {
            runs_.clear();
            corners_.clear();
        }
    }

    const RecoveryInput& in_;
    std::vector<Run> runs_;
    std::vector<Corner> corners_;  // by run: the one at its end
};

}  // namespace

SettledRuns settled_runs(const RecoveryInput& input, std::vector<Run> runs) {
    RunRing ring(input, std::move(runs));
    SettledRuns result;
    result.suspects = ring.settle();
    if (!input.last_try) result.overreaching = ring.overreaching();
    result.runs = ring.runs();
    return result;
}

}  // namespace planform::arrange
