#include "plan/stop_graph.hpp"

#include <utility>

#include "curve/index.hpp"
#include "plan/start_grid.hpp"

namespace planform::planning {
namespace {

using detail::index;

/// Neighbours that a move looks at: more find little more (common practice, no source).
constexpr int neighbours = 10;

}  // namespace

StopGraph::StopGraph(std::vector<Stop> stops, const Point2& home)
    : stops_(std::move(stops)), home_(home), inside_(stops_.size()) {
    for (int s = 0; s < size(); ++s)
        if (within(s) >= 0) inside_[index(within(s))].push_back(s);
    find_neighbours();
}

void StopGraph::find_neighbours() {
    StartGrid grid(stops_);
    first_near_.push_back(0);
    for (int s = 0; s < size(); ++s) {
        for (const int near : grid.nearest(stop(s).end, neighbours + 1))
            if (near != s && near_.size() < first_near_.back() + neighbours) near_.push_back(near);
        first_near_.push_back(near_.size());
    }
}

}  // namespace planform::planning
