#include "flatten/zero_sets/stop_pairing.hpp"

#include <algorithm>
#include <limits>

namespace planform::flatten {
namespace {

/// Shifts by which the ends of a closed branch may go with its starts: none or one if all lie in
/// order, one more either way if the first or the last do not.
constexpr int shifts[] = {0, 1, -1, 2};

StopPairing paired(int count, int shift) {
    StopPairing result{{}, 0.0};
    for (int i = 0; i < count; ++i) {
        int turns = 0, end = i + shift;
        for (; end >= count; end -= count) ++turns;
        for (; end < 0; end += count) --turns;
        result.ends.emplace_back(static_cast<std::size_t>(end), turns);
    }
    return result;
}

}  // namespace

std::vector<StopPairing> pair_stops(const std::vector<double>& starts,
                                    const std::vector<double>& ends, std::optional<double> period,
                                    double slack,
                                    const std::function<double(double, double)>& gap) {
    const std::size_t count = starts.size();
    std::vector<StopPairing> result;
    for (const int shift : shifts) {
        if (shift != 0 && !period) break;
        StopPairing pairing = paired(static_cast<int>(count), shift);
        const auto demand_order = [&](double before, double after) {
            if (before <= after) return;
            const bool is_near = !period || before - after < 0.5 * *period;
            pairing.misplaced =
                std::max(pairing.misplaced,
                         is_near ? gap(before, after) : std::numeric_limits<double>::infinity());
        };
        const auto end_of = [&](std::size_t i) {
            return ends[pairing.ends[i].first] + pairing.ends[i].second * period.value_or(0.0);
        };
        for (std::size_t i = 0; i < count; ++i) {
            if (pairing.misplaced > slack) break;
            demand_order(starts[i], end_of(i));
            if (i + 1 < count)
                demand_order(end_of(i), starts[i + 1]);
            else if (period)
                demand_order(end_of(i), starts[0] + *period);
        }
        if (pairing.misplaced <= slack) result.push_back(std::move(pairing));
    }
    std::stable_sort(result.begin(), result.end(),
                     [](const auto& a, const auto& b) { return a.misplaced < b.misplaced; });
    return result;
}

}  // namespace planform::flatten
