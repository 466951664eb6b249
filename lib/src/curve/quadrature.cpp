#include "curve/quadrature.hpp"

#include <array>
#include <cmath>

namespace planform::detail {
namespace {

constexpr int most_nodes = 32;
constexpr double half_turn = 3.14159265358979323846;

/// Roots of the Legendre polynomial by Newton's method from the cosine guess, weights
/// 2 / ((1 - x^2) P_n'(x)^2): Abramowitz and Stegun, "Handbook of Mathematical Functions", 25.4.29;
/// guess 22.16.6.
GaussRule make_rule(int n) {
    GaussRule rule;
    for (int i = 0; i < n; ++i) {
        double x = -std::cos(half_turn * (i + 0.75) / (n + 0.5));
        double slope = 1.0;
        for (int iteration = 0; iteration < 50; ++iteration) {
            double before = 1.0;
            double value = x;
            for (int m = 2; m <= n; ++m) {
                const double next = ((2 * m - 1) * x * value - (m - 1) * before) / m;
                before = value;
                value = next;
            }
            slope = n * (x * value - before) / (x * x - 1.0);
            const double step = value / slope;
            x -= step;
            if (std::abs(step) < 1e-16) break;
        }
        rule.nodes.push_back(x);
        rule.weights.push_back(2.0 / ((1.0 - x * x) * slope * slope));
    }
    return rule;
}

}  // namespace

const GaussRule& gauss_rule(int n) {
    static const std::array<GaussRule, most_nodes + 1> rules = [] {
        std::array<GaussRule, most_nodes + 1> made;
        for (int count = 1; count <= most_nodes; ++count) made[count] = make_rule(count);
        return made;
    }();
    return rules[n];
}

}  // namespace planform::detail
