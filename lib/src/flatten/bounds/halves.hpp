#pragma once

#include <cstddef>
#include <vector>

namespace planform::flatten {

/// Halves a polynomial in Bernstein form (de Casteljau): the coefficients of its first half come
/// back, those of the second take the place of the whole.
inline std::vector<double> take_first_half(std::vector<double>& coefficients) {
    std::vector<double> first;
    for (std::size_t n = coefficients.size(); n > 0; --n) {
        first.push_back(coefficients.front());
        for (std::size_t i = 0; i + 1 < n; ++i)
            coefficients[i] = 0.5 * (coefficients[i] + coefficients[i + 1]);
    }
    return first;
}

}  // namespace planform::flatten
