#include "plan/ordering.hpp"

#include <map>

#include "curve/index.hpp"
#include "plan/apart_order.hpp"

namespace planform::planning {
namespace {

using detail::index;

/// Bands of the longer side where none are asked for.
constexpr double usual_bands = 8.0;

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

std::vector<int> kept_apart(const std::vector<OrderedItem>& items, const std::vector<int>& chosen,
                            const PlanOptions& options, const Point2& at) {
    Apart apart{stops_of(items, chosen), {}, options.apart_count, options.apart_distance};
    for (const int item : chosen) apart.boxes.push_back(items[index(item)].box);
    return apart_order(apart, at);
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
        const bool is_apart = options.order == CutOrder::apart && options.apart_count > 0 &&
                              options.apart_distance > 0.0;
        const std::vector<int> part = is_apart ? kept_apart(items, chosen, options, at)
                                               : shortest_order(stops_of(items, chosen), at);
        for (const int s : part) order.push_back(chosen[index(s)]);
        at = items[index(order.back())].stop.end;
    }
    return order;
}

}  // namespace planform::planning
