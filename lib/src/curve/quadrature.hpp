#pragma once

/// Gauss-Legendre quadrature, plain and adaptive.

#include <cmath>
#include <vector>

namespace planform::detail {

/// Nodes in [-1, 1] and weights; exact for polynomials up to degree 2 n - 1.
struct GaussRule {
    std::vector<double> nodes;
    std::vector<double> weights;
};

/// The rule with n nodes, 1 <= n <= 32.
const GaussRule& gauss_rule(int n);

template <class Function>
double integrate_fixed(const Function& function, double from, double to, int n) {
    const GaussRule& rule = gauss_rule(n);
    const double half = 0.5 * (to - from);
    const double middle = 0.5 * (from + to);
    double sum = 0.0;
    for (int i = 0; i < n; ++i) sum += rule.weights[i] * function(middle + half * rule.nodes[i]);
    return half * sum;
}

template <class Function>
double refine_integral(const Function& function, double from, double to, double whole,
                       double allowed_error, int depth) {
    constexpr int nodes = 12;
    const double middle = 0.5 * (from + to);
    const double left = integrate_fixed(function, from, middle, nodes);
    const double right = integrate_fixed(function, middle, to, nodes);
    if (std::abs(left + right - whole) <= allowed_error || depth == 0) return left + right;
    return refine_integral(function, from, middle, left, allowed_error, depth - 1) +
           refine_integral(function, middle, to, right, allowed_error, depth - 1);
}

/// Integral by bisection until a 12-point rule and its two halves agree within `allowed_error`. The
/// halves are far better than the difference shows, so the error is well below it for smooth
/// functions.
template <class Function>
double integrate_adaptive(const Function& function, double from, double to, double allowed_error) {
    constexpr int deepest = 40;
    return refine_integral(function, from, to, integrate_fixed(function, from, to, 12),
                           allowed_error, deepest);
}

}  // namespace planform::detail
