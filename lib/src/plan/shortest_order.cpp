#include <algorithm>
#include <cmath>
#include <string>

#include "plan/tour.hpp"
#include "planform/error.hpp"

namespace planform {
namespace {

[[noreturn]] void refuse(const std::string& message) {
    throw GeometryError(ErrorKind::invalid_argument, message);
}

void check(const std::vector<Stop>& stops) {
    const int count = static_cast<int>(stops.size());
    for (int s = 0; s < count; ++s) {
        const Stop& stop = stops[static_cast<std::size_t>(s)];
        if (!stop.start.allFinite() || !stop.end.allFinite())
            refuse("stop " + std::to_string(s) + " has a coordinate that is not finite");
        if (stop.within < -1 || stop.within >= count || stop.within == s)
            refuse("stop " + std::to_string(s) + " lies within " + std::to_string(stop.within) +
                   ", which is no other stop of " + std::to_string(count));
    }
    // Each stop is walked over once: 1 on the way, 2 known to lead out.
    std::vector<char> state(stops.size(), 0);
    for (int s = 0; s < count; ++s) {
        std::vector<int> way;
        int at = s;
        while (at >= 0 && state[static_cast<std::size_t>(at)] == 0) {
            state[static_cast<std::size_t>(at)] = 1;
            way.push_back(at);
            at = stops[static_cast<std::size_t>(at)].within;
        }
        if (at >= 0 && state[static_cast<std::size_t>(at)] == 1)
            refuse("stop " + std::to_string(at) + " lies within itself by way of others");
        for (const int known : way) state[static_cast<std::size_t>(known)] = 2;
    }
}

/// Kicks: few stops are all but settled by a hundred and fifty each; for many, each of which costs
/// time in proportion to their number, so many that it stays at some seconds.
std::int64_t kicks_for(std::size_t count) {
    constexpr std::int64_t each = 150, most = 40000, steps = 150000000;
    const auto stops = static_cast<std::int64_t>(count);
    return std::min({each * stops, most, steps / stops});
}

}  // namespace

std::vector<int> shortest_order(const std::vector<Stop>& stops, const Point2& home) {
    check(stops);
    if (!home.allFinite()) refuse("the home position has a coordinate that is not finite");
    if (stops.empty()) return {};
    const planning::StopGraph graph(stops, home);
    planning::Tour tour(graph, planning::nearest_first(graph));
    tour.improve();
    tour.improve_by_kicks(kicks_for(stops.size()));
    return tour.order();
}

double travel_length(const std::vector<Stop>& stops, const std::vector<int>& order,
                     const Point2& home) {
    double length = 0.0;
    Point2 at = home;
    for (const int s : order) {
        if (s < 0 || s >= static_cast<int>(stops.size()))
            refuse("the order names stop " + std::to_string(s) + " of " +
                   std::to_string(stops.size()));
        const Stop& stop = stops[static_cast<std::size_t>(s)];
        length += (stop.start - at).norm();
        at = stop.end;
    }
    return length;
}

}  // namespace planform
