#pragma once

/// Stops of a tour, what lies in what, and the ways between them.

#include <span>
#include <vector>

#include "planform/plan.hpp"

namespace planform::planning {

/// Stops with their neighbours; the moves look at these only.
class StopGraph {
  public:
    /// `within` of the stops are indices of stops or -1, and have no circles.
    StopGraph(std::vector<Stop> stops, const Point2& home);

    int size() const { return static_cast<int>(stops_.size()); }
    const Stop& stop(int s) const { return stops_[static_cast<std::size_t>(s)]; }
    /// -1 stands for the home position before the first stop and for nothing after the last.
    double way(int from, int to) const {
        if (to < 0) return 0.0;
        const Point2& end = from < 0 ? home_ : stop(from).end;
        return (stop(to).start - end).norm();
    }
    const Point2& home() const { return home_; }
    int within(int s) const { return stop(s).within; }
    const std::vector<int>& inside(int s) const { return inside_[static_cast<std::size_t>(s)]; }
    /// Stops whose starts are near the end of s, the nearest first.
    std::span<const int> near(int s) const {
        const auto first = first_near_[static_cast<std::size_t>(s)];
        return std::span<const int>(near_).subspan(
            first, first_near_[static_cast<std::size_t>(s) + 1] - first);
    }

  private:
    void find_neighbours();

    std::vector<Stop> stops_;
    Point2 home_;
    std::vector<std::vector<int>> inside_;
    std::vector<int> near_;
    std::vector<std::size_t> first_near_;
};

}  // namespace planform::planning
