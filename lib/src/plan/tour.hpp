#pragma once

/// A way through stops, some of which have to come before others, and its improvement.
///
/// Notation: a *tour* is an order of all stops; d(a, b) is the way from the end of a to the start
/// of b. A move is given by positions in the tour; it is *allowed* if every stop still comes before
/// the one that it lies within.

#include <cstdint>
#include <vector>

#include "plan/stop_graph.hpp"

namespace planform::planning {

/// Nearest neighbours first, of those that may come next.
std::vector<int> nearest_first(const StopGraph& graph);

class Tour {
  public:
    /// The order must be allowed.
    Tour(const StopGraph& graph, std::vector<int> order);

    const std::vector<int>& order() const { return order_; }
    /// mm, from the home position on.
    double length() const { return length_; }
    /// Takes moves as long as one makes the tour shorter.
    void improve();
    /// Kicks and improvements, `count` of them; what makes the tour longer is taken back.
    void improve_by_kicks(std::int64_t count);

  private:
    int at(int position) const {
        return position < 0 || position >= size() ? -1 : order_[static_cast<std::size_t>(position)];
    }
    int size() const { return static_cast<int>(order_.size()); }
    int place(int stop) const { return place_[static_cast<std::size_t>(stop)]; }
    /// Updates what is known of the positions from `first` to `last`.
    void refresh(int first, int last);
    void queue(int stop);
    bool improve_at(int stop);
    bool improve_by_reversal(int first, int last);
    bool improve_by_move(int from, int after);
    bool move_is_allowed_up(int stop, int first, int last) const;
    void reverse(int first, int last);
    void swap_neighbours(int first, int middle, int last);
    bool swap_is_allowed(int first, int middle, int last) const;
    double swap_gain(int first, int middle, int last) const;
    void restore(const std::vector<int>& order, double length, int first, int last);

    const StopGraph& graph_;
    std::vector<int> order_;
    std::vector<int> place_;
    std::vector<double> forth_;     ///< length up to a position
    std::vector<double> back_;      ///< the same of the ways in the other direction
    std::vector<int> last_inside_;  ///< by position: largest position of what lies inside, up to it
    std::vector<char> is_queued_;
    std::vector<int> queue_;
    double length_ = 0.0;
    int touched_first_ = 0;
    int touched_last_ = -1;
};

}  // namespace planform::planning
