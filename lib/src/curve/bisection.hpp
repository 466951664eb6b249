#pragma once

#include <utility>

namespace planform::detail {

/// What is left of a bracket after so many halvings. `is_low(place)` tells on whose side a place
/// is, that of the lower end or that of the upper one.
template <class Place, class IsLow>
std::pair<Place, Place> bisected(Place low, Place high, int halvings, IsLow&& is_low) {
    for (int i = 0; i < halvings; ++i) {
        const Place middle = 0.5 * (low + high);
        (is_low(middle) ? low : high) = middle;
    }
    return {low, high};
}

/// The middle of what is left.
template <class Place, class IsLow>
Place bisected_place(Place low, Place high, int halvings, IsLow&& is_low) {
    const auto [from, to] = bisected(low, high, halvings, is_low);
    return 0.5 * (from + to);
}

}  // namespace planform::detail
