#include "flatten/bounds/spline_direction.hpp"

#include <algorithm>
#include <utility>

namespace planform::flatten {

std::vector<int> SplineDirection::spans() const {
    std::vector<int> result;
    const int last = static_cast<int>(knots.size()) - degree - 1;
    for (int k = degree; k < last; ++k) {
        const double a = knot(k), b = knot(k + 1);
        if (b > a && b > low && a < high) result.push_back(k);
    }
    return result;
}

Interval SplineDirection::clipped(int k) const {
    return {std::max(low, knot(k)), std::min(high, knot(k + 1))};
}

std::vector<std::vector<double>> SplineDirection::to_bezier(int k, const Interval& part) const {
    std::vector<std::vector<double>> rows;
    for (int i = 0; i <= degree; ++i) {
        // Blossom at (first,... , last,...): de Boor's scheme, read from its end, so that it gives
        // the weights of all poles at once.
        std::vector<double> weights(static_cast<std::size_t>(degree + 1), 0.0);
        weights.back() = 1.0;
        for (int r = degree; r >= 1; --r) {
            const double at = r <= degree - i ? part.first : part.last;
            for (int j = r; j <= degree; ++j) {
                const double a = knot(j + k - degree), b = knot(j + 1 + k - r);
                const double t = (at - a) / (b - a);
                const auto here = static_cast<std::size_t>(j);
                weights[here - 1] += (1.0 - t) * weights[here];
                weights[here] *= t;
            }
        }
        rows.push_back(std::move(weights));
    }
    return rows;
}

}  // namespace planform::flatten
