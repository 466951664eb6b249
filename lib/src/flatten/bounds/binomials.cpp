#include "flatten/bounds/binomials.hpp"

#include <array>
#include <cstddef>

namespace planform::flatten {
namespace {

constexpr std::size_t rows = most_binomials + 1;
using Triangle = std::array<std::array<double, rows>, rows>;

/// Pascal's triangle.
Triangle pascal() {
    Triangle t{};
    for (std::size_t n = 0; n < rows; ++n) {
        t[n][0] = 1.0;
        for (std::size_t k = 1; k <= n; ++k)
            t[n][k] = t[n - 1][k - 1] + (k < n ? t[n - 1][k] : 0.0);
    }
    return t;
}

Triangle alternating() {
    Triangle t = pascal();
    for (std::size_t n = 0; n < rows; ++n)
        for (std::size_t k = 0; k < n; ++k)
            if ((n - k) % 2 == 1) t[n][k] = -t[n][k];
    return t;
}

}  // namespace

const double* binomials(int n) {
    static const Triangle triangle = pascal();
    return triangle[static_cast<std::size_t>(n)].data();
}

const double* alternating_binomials(int n) {
    static const Triangle triangle = alternating();
    return triangle[static_cast<std::size_t>(n)].data();
}

}  // namespace planform::flatten
