#include "arrange/carriers/carrier_places.hpp"

#include <algorithm>
#include <cstddef>
#include <variant>

namespace planform::arrange {

std::vector<double> places_along(const Carrier& carrier, double from, double to, int count) {
    const auto [low, high] = std::minmax(from, to);
    std::vector<double> ends{low};
    if (const auto* spline = std::get_if<Spline>(&carrier.curve))
        for (const double knot : spline->knots)
            if (knot > ends.back() && knot < high) ends.push_back(knot);
    ends.push_back(high);
    std::vector<double> places{low};
    for (std::size_t k = 0; k + 1 < ends.size(); ++k)
        for (int i = 1; i <= count; ++i)
            places.push_back(i == count ? ends[k + 1]
                                        : ends[k] + (ends[k + 1] - ends[k]) * i / count);
    if (from > to) std::reverse(places.begin(), places.end());
    return places;
}

}  // namespace planform::arrange
