#pragma once

/// Numbers that the tests of this floor compare with, found without the library.

#include <algorithm>
#include <cmath>
#include <functional>
#include <vector>

namespace quadrature {

/// Integral by the midpoint rule after x = middle - half cos(t): square-root ends become smooth
/// and, as the periodic extension in t is smooth too, the rule converges like a power of the step
/// that grows with the smoothness (C. W. Clenshaw, A. R. Curtis, Numerische Mathematik 2 (1960)).
inline double integrate(const std::function<double(double)>& f, double from, double to,
                        int count = 400) {
    const double pi = std::acos(-1.0), middle = 0.5 * (from + to), half = 0.5 * (to - from);
    // Simpson's weights in t with the ends left out would cost digits: Gauss-Legendre of 10 nodes a
    // piece.
    static const double node[5] = {0.1488743389816312, 0.4333953941292472, 0.6794095682990244,
                                   0.8650633666889845, 0.9739065285171717};
    static const double weight[5] = {0.2955242247147529, 0.2692667193099963, 0.2190863625159820,
                                     0.1494513491505806, 0.0666713443086881};
    const int pieces = count / 10;
    double sum = 0.0;
    for (int i = 0; i < pieces; ++i) {
        const double center = pi * (i + 0.5) / pieces, reach = 0.5 * pi / pieces;
        for (int k = 0; k < 5; ++k)
            for (const double sign : {1.0, -1.0}) {
                const double t = center + sign * reach * node[k];
                sum += weight[k] * reach * half * std::sin(t) * f(middle - half * std::cos(t));
            }
    }
    return sum;
}

/// Zeros of a function between samples, by bisection.
inline std::vector<double> zeros(const std::function<double(double)>& f, double from, double to,
                                 int samples = 4000) {
    std::vector<double> result;
    double a = from, fa = f(a);
    for (int i = 1; i <= samples; ++i) {
        const double b = from + (to - from) * i / samples, fb = f(b);
        if ((fa > 0.0) != (fb > 0.0)) {
            double low = a, high = b;
            for (int k = 0; k < 100; ++k) {
                const double m = 0.5 * (low + high);
                ((f(m) > 0.0) == (fa > 0.0) ? low : high) = m;
            }
            result.push_back(0.5 * (low + high));
        }
        a = b;
        fa = fb;
    }
    return result;
}

}  // namespace quadrature
