#include "plan/ordering.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace planform::planning {
namespace {

std::size_t index(int i) { return static_cast<std::size_t>(i); }

/// Bands of the longer side where none are asked for.
constexpr double usual_bands = 8.0;

double between(const Box2& a, const Box2& b) { return std::sqrt(a.squaredExteriorDistance(b)); }

/// The items of one phase as stops of their own; what they lie within counts if it is among them.
std::vector<Stop> stops_of(const std::vector<OrderedItem>& items, const std::vector<int>& chosen) {
    std::map<int, int> number;
    for (const int item : chosen) number.emplace(item, static_cast<int>(number.size()));
    std::vector<Stop> stops;
    for (const int item : chosen) {
        Stop stop = items[index(item)].stop;
        const auto around = number.find(stop.within);
        stop.within = around == number.end() ? -1 : around->second;
        stops.push_back(stop);
    }
    return stops;
}

/// Each time the nearest that may come next and keeps apart from the last cuts; where none does,
/// the one that is furthest from them.
std::vector<int> apart_order(const std::vector<OrderedItem>& items, const std::vector<int>& chosen,
                             const PlanOptions& options, Point2 at) {
    const std::vector<Stop> stops = stops_of(items, chosen);
    std::vector<int> waiting(stops.size(), 0);
    for (const Stop& stop : stops)
        if (stop.within >= 0) ++waiting[index(stop.within)];
    std::vector<int> ready;
    for (int s = 0; s < static_cast<int>(stops.size()); ++s)
        if (waiting[index(s)] == 0) ready.push_back(s);
    std::vector<int> order;
    while (!ready.empty()) {
        int best = -1;
        double best_gap = -1.0, best_way = 0.0;
        for (int r = 0; r < static_cast<int>(ready.size()); ++r) {
            const int s = ready[index(r)];
            double gap = options.apart_distance;
            const auto last = std::min(order.size(), index(options.apart_count));
            for (std::size_t i = order.size() - last; i < order.size(); ++i)
                gap = std::min(gap, between(items[index(chosen[index(s)])].box,
                                            items[index(chosen[index(order[i])])].box));
            const double way = (stops[index(s)].start - at).norm();
            if (best < 0 || gap > best_gap || (gap == best_gap && way < best_way)) {
                best = r;
                best_gap = gap;
                best_way = way;
            }
        }
        const int next = ready[index(best)];
        ready.erase(ready.begin() + best);
        order.push_back(next);
        at = stops[index(next)].end;
        const int around = stops[index(next)].within;
        if (around >= 0 && --waiting[index(around)] == 0) ready.push_back(around);
    }
    return order;
}

/// By item: the outermost item around it.
int outermost(const std::vector<OrderedItem>& items, int item) {
    while (items[index(item)].stop.within >= 0) item = items[index(item)].stop.within;
    return item;
}

/// Phases one after the other: by band (one if there are none), marks before all others.
std::map<std::pair<bool, int>, std::vector<int>> phases_of(const std::vector<OrderedItem>& items,
                                                           const PlanOptions& options) {
    std::map<std::pair<bool, int>, std::vector<int>> phases;
    Box2 all;
    if (options.sheet) all = options.sheet->bounds();
    for (const OrderedItem& item : items) all.extend(item.box);
    const bool is_along = options.order == CutOrder::along && !all.isEmpty();
    const int along = is_along && all.sizes().y() > all.sizes().x() ? 1 : 0;
    const double band = options.band > 0.0 ? options.band
                        : is_along         ? all.sizes()(along) / usual_bands
                                           : 1.0;
    for (int i = 0; i < static_cast<int>(items.size()); ++i) {
        int number = 0;
        if (is_along) {
            const Box2& box = items[index(outermost(items, i))].box;
            number = static_cast<int>((box.center()(along) - all.min()(along)) / band);
        }
        phases[{!items[index(i)].is_mark, number}].push_back(i);
    }
    return phases;
}

}  // namespace

std::vector<int> order_of(const std::vector<OrderedItem>& items, const PlanOptions& options) {
    std::vector<int> order;
    Point2 at = options.home;
    for (const auto& [phase, chosen] : phases_of(items, options)) {
        const std::vector<int> part = options.order == CutOrder::apart
                                          ? apart_order(items, chosen, options, at)
                                          : shortest_order(stops_of(items, chosen), at);
        for (const int s : part) order.push_back(chosen[index(s)]);
        at = items[index(order.back())].stop.end;
    }
    return order;
}

}  // namespace planform::planning
