#include "plan/tour.hpp"

#include <algorithm>
#include <random>

#include "curve/index.hpp"
#include "plan/start_grid.hpp"

namespace planform::planning {
namespace {

using detail::index;

/// Longest stretch that is moved elsewhere. Longer ones are reversed or swapped by kicks.
constexpr int longest_moved = 50;
/// Longest stretch of a kick.
constexpr int longest_kick = 30;
/// mm: gains below are rounding.
constexpr double least_gain = 1e-7;
/// Of the kicks; any other serves as well.
constexpr std::uint64_t tour_seed = 20;

}  // namespace

std::vector<int> nearest_first(const StopGraph& graph) {
    std::vector<Stop> stops;
    for (int s = 0; s < graph.size(); ++s) stops.push_back(graph.stop(s));
    StartGrid grid(stops);
    std::vector<std::size_t> waiting(stops.size());
    for (int s = 0; s < graph.size(); ++s) {
        waiting[index(s)] = graph.inside(s).size();
        if (waiting[index(s)] > 0) grid.remove(s);
    }
    std::vector<int> order;
    int last = -1;
    while (static_cast<int>(order.size()) < graph.size()) {
        const Point2& at = last < 0 ? graph.home() : graph.stop(last).end;
        const int next = grid.nearest(at, 1).front();
        grid.remove(next);
        order.push_back(next);
        last = next;
        const int around = graph.within(next);
        if (around >= 0 && --waiting[index(around)] == 0) grid.restore(around);
    }
    return order;
}

Tour::Tour(const StopGraph& graph, std::vector<int> order)
    : graph_(graph),
      order_(std::move(order)),
      place_(order_.size()),
      forth_(order_.size() + 1),
      back_(order_.size() + 1),
      last_inside_(order_.size() + 1),
      is_queued_(order_.size(), 0) {
    refresh(0, size() - 1);
}

void Tour::refresh(int first, int last) {
    for (int p = first; p <= last; ++p) place_[index(at(p))] = p;
    double forth = first > 0 ? forth_[index(first - 1)] : 0.0;
    double back = first > 0 ? back_[index(first - 1)] : 0.0;
    int inside = first > 0 ? last_inside_[index(first - 1)] : -1;
    for (int p = first; p < size(); ++p) {
        const int stop = at(p), before = at(p - 1);
        forth += graph_.way(before, stop);
        if (before >= 0) back += graph_.way(stop, before);
        for (const int s : graph_.inside(stop)) inside = std::max(inside, place(s));
        forth_[index(p)] = forth;
        back_[index(p)] = back;
        last_inside_[index(p)] = inside;
    }
    length_ = forth;
    if (touched_last_ < touched_first_) {
        touched_first_ = first;
        touched_last_ = last;
    } else {
        touched_first_ = std::min(touched_first_, first);
        touched_last_ = std::max(touched_last_, last);
    }
}

void Tour::queue(int stop) {
    if (stop < 0 || is_queued_[index(stop)]) return;
    is_queued_[index(stop)] = 1;
    queue_.push_back(stop);
}

void Tour::improve() {
    if (queue_.empty())
        for (int p = size() - 1; p >= 0; --p) queue(at(p));
    while (!queue_.empty()) {
        const int stop = queue_.back();
        queue_.pop_back();
        is_queued_[index(stop)] = 0;
        while (improve_at(stop)) {
        }
    }
}

bool Tour::improve_at(int stop) {
    const int p = place(stop);
    for (const int near : graph_.near(stop)) {
        const double way = graph_.way(stop, near);
        const int q = place(near);
        // A new way has to be shorter than one of those that it replaces.
        if (way >= graph_.way(stop, at(p + 1)) && way >= graph_.way(at(q - 1), near)) continue;
        if (q > p + 1 ? improve_by_reversal(p + 1, q) : q < p && improve_by_reversal(q + 1, p))
            return true;
        if (q != p + 1 && improve_by_move(q, p)) return true;
    }
    return false;
}

/// A stretch comes in the other order. It is allowed if none of its stops lies within another.
bool Tour::improve_by_reversal(int first, int last) {
    if (last <= first || last_inside_[index(last)] >= first) return false;
    const double old_way = graph_.way(at(first - 1), at(first)) +
                           graph_.way(at(last), at(last + 1)) + forth_[index(last)] -
                           forth_[index(first)];
    const double new_way = graph_.way(at(first - 1), at(last)) +
                           graph_.way(at(first), at(last + 1)) + back_[index(last)] -
                           back_[index(first)];
    if (old_way - new_way <= least_gain) return false;
    reverse(first, last);
    return true;
}

void Tour::reverse(int first, int last) {
    for (const int p : {first - 1, first, last, last + 1}) queue(at(p));
    std::reverse(order_.begin() + first, order_.begin() + last + 1);
    refresh(first, last);
}

/// A stretch that begins at position `from` comes behind position `after`; the best length of all.
bool Tour::improve_by_move(int from, int after) {
    double best = least_gain;
    int best_last = -1;
    if (from > after) {
        for (int last = from; last < size() && last < from + longest_moved; ++last) {
            if (!move_is_allowed_up(at(last), after + 1, from - 1)) break;
            const double gain = swap_gain(after + 1, from, last);
            if (gain > best) {
                best = gain;
                best_last = last;
            }
        }
        if (best_last < 0) return false;
        swap_neighbours(after + 1, from, best_last);
        return true;
    }
    int needed = -1;  // what a stop lies within moves along
    for (int last = from; last < after && last < from + longest_moved; ++last) {
        const int around = graph_.within(at(last));
        if (around >= 0 && place(around) <= after) needed = std::max(needed, place(around));
        if (needed > last) continue;
        const double gain = swap_gain(from, last + 1, after);
        if (gain > best) {
            best = gain;
            best_last = last;
        }
    }
    if (best_last < 0) return false;
    swap_neighbours(from, best_last + 1, after);
    return true;
}

/// Does nothing that lies in the stop come at these positions?
bool Tour::move_is_allowed_up(int stop, int first, int last) const {
    return std::none_of(graph_.inside(stop).begin(), graph_.inside(stop).end(),
                        [&](int s) { return place(s) >= first && place(s) <= last; });
}

/// mm saved if the stretches [first, middle) and [middle, last] change places.
double Tour::swap_gain(int first, int middle, int last) const {
    return graph_.way(at(first - 1), at(first)) + graph_.way(at(middle - 1), at(middle)) +
           graph_.way(at(last), at(last + 1)) - graph_.way(at(first - 1), at(middle)) -
           graph_.way(at(last), at(first)) - graph_.way(at(middle - 1), at(last + 1));
}

bool Tour::swap_is_allowed(int first, int middle, int last) const {
    for (int p = middle; p <= last; ++p)
        if (!move_is_allowed_up(at(p), first, middle - 1)) return false;
    return true;
}

void Tour::swap_neighbours(int first, int middle, int last) {
    for (const int p : {first - 1, first, middle - 1, middle, last, last + 1}) queue(at(p));
    std::rotate(order_.begin() + first, order_.begin() + middle, order_.begin() + last + 1);
    refresh(first, last);
}

/// Puts back what was between two positions.
void Tour::restore(const std::vector<int>& order, double length, int first, int last) {
    std::copy(order.begin() + first, order.begin() + last + 1, order_.begin() + first);
    refresh(first, last);
    length_ = length;
}

void Tour::improve_by_kicks(std::int64_t count) {
    if (size() < 4) return;
    std::mt19937_64 random(tour_seed);
    const auto below = [&](int limit) {
        return static_cast<int>(random() % static_cast<std::uint64_t>(limit));
    };
    std::vector<int> best = order_;
    double best_length = length_;
    for (std::int64_t kick = 0; kick < count; ++kick) {
        const int longest = std::min(longest_kick, size() / 2);
        const int first = below(size() - 1);
        const int middle = std::min(size() - 1, first + 1 + below(longest));
        const int last = std::min(size() - 1, middle + below(longest));
        if (!swap_is_allowed(first, middle, last)) continue;
        touched_first_ = 0;
        touched_last_ = -1;
        swap_neighbours(first, middle, last);
        improve();
        if (length_ > best_length + least_gain) {
            restore(best, best_length, touched_first_, touched_last_);
            continue;
        }
        std::copy(order_.begin() + touched_first_, order_.begin() + touched_last_ + 1,
                  best.begin() + touched_first_);
        best_length = length_;
    }
    order_ = best;
    refresh(0, size() - 1);
}

}  // namespace planform::planning
