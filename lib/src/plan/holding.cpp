#include "plan/holding.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace planform::planning {
namespace {

/// Gaps that lie between a strip and the end of its line (common practice, no source).
constexpr double margin_in_gaps = 1.0;
/// Least radius of an arc with a strip, in gaps: flatter than 15 degrees across it.
constexpr double least_radius_in_gaps = 4.0;
/// mm: what is shorter is no piece of a curve.
constexpr double shortest = 1e-6;

/// Where the middle of a strip may lie, mm along the way.
struct Room {
    double first;
    double last;
    bool is_line;
};

std::vector<Room> rooms_of(const std::vector<Curve>& way, double gap, const MayHold& may_hold) {
    std::vector<Room> rooms;
    double along = 0.0;
    for (std::size_t i = 0; i < way.size(); ++i) {
        const double reach = length(way[i]);
        const Arc* arc = std::get_if<Arc>(&way[i]);
        const bool is_line = std::holds_alternative<Line>(way[i]);
        const bool is_flat = arc != nullptr && arc->radius >= least_radius_in_gaps * gap;
        const double inset = (0.5 + margin_in_gaps) * gap;
        if (may_hold[i] != 0 && (is_line || is_flat) && reach > 2.0 * inset)
            rooms.push_back({along + inset, along + reach - inset, is_line});
        along += reach;
    }
    return rooms;
}

/// The place in a room nearest to the one wanted that keeps `apart` from those chosen already.
double nearest_free(const std::vector<Room>& rooms, bool lines, double wanted, double apart,
                    double total, const std::vector<double>& chosen) {
    const auto is_free = [&](double place) {
        return std::all_of(chosen.begin(), chosen.end(), [&](double other) {
            const double between = std::abs(place - other);
            return std::min(between, total - between) >= apart - shortest;
        });
    };
    double best = std::numeric_limits<double>::quiet_NaN();
    const auto offer = [&](const Room& room, double place) {
        place = std::clamp(place, room.first, room.last);
        if (is_free(place) && !(std::abs(place - wanted) >= std::abs(best - wanted))) best = place;
    };
    for (const Room& room : rooms) {
        if (room.is_line != lines) continue;
        offer(room, wanted);
        for (const double other : chosen) {
            offer(room, other - apart);
            offer(room, other + apart);
        }
    }
    return best;
}

}  // namespace

double length_of(const std::vector<Curve>& way) {
    double sum = 0.0;
    for (const Curve& curve : way) sum += length(curve);
    return sum;
}

SplitWay split_way(const std::vector<Curve>& way, double at) {
    SplitWay parts;
    double along = 0.0;
    for (const Curve& curve : way) {
        const double reach = length(curve);
        const double here = at - along;
        along += reach;
        if (here >= reach - shortest) {
            parts.before.push_back(curve);
        } else if (here <= shortest) {
            parts.after.push_back(curve);
        } else {
            // By length: lines and arcs are even; of others the place is found by halving.
            const Interval range = domain(curve);
            double low = range.first, high = range.last;
            double t = low + (high - low) * here / reach;
            if (!std::holds_alternative<Line>(curve) && !std::holds_alternative<Arc>(curve)) {
                for (int i = 0; i < 60; ++i) {
                    t = 0.5 * (low + high);
                    (length(trimmed(curve, range.first, t)) < here ? low : high) = t;
                }
            }
            parts.before.push_back(trimmed(curve, range.first, t));
            parts.after.push_back(trimmed(curve, t, range.last));
        }
    }
    return parts;
}

HeldCut with_gaps(const std::vector<Curve>& way, int count, double gap, const MayHold& may_hold) {
    HeldCut held;
    held.stretches.push_back(way);
    if (count <= 0 || gap <= 0.0) return held;
    const double total = length_of(way);
    const std::vector<Room> rooms = rooms_of(way, gap, may_hold);
    std::vector<double> places;
    const double apart = std::max(2.0 * gap, total / (2.0 * count));
    for (int i = 0; i < count; ++i) {
        const double wanted = total * (i + 0.5) / count;
        double place = nearest_free(rooms, true, wanted, apart, total, places);
        if (std::isnan(place)) place = nearest_free(rooms, false, wanted, apart, total, places);
        if (!std::isnan(place)) places.push_back(place);
    }
    std::sort(places.begin(), places.end());
    held.strips = static_cast<int>(places.size());
    // From the last to the first, so that lengths along the way stay what they are.
    for (auto place = places.rbegin(); place != places.rend(); ++place) {
        const SplitWay end = split_way(held.stretches.front(), *place + 0.5 * gap);
        const SplitWay start = split_way(end.before, *place - 0.5 * gap);
        held.stretches.front() = start.before;
        held.stretches.insert(held.stretches.begin() + 1, end.after);
    }
    return held;
}

}  // namespace planform::planning
