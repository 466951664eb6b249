#include "flatten/curves/smooth_fit.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

namespace planform::flatten {
namespace {

struct Knot {
    double at;
    Jet2 jet;
};

/// Value at the middle of the quintic Hermite piece between two knots.
Vector2 hermite_middle(const Knot& a, const Knot& b) {
    const double h = b.at - a.at;
    return 0.5 * (a.jet[0] + b.jet[0]) + 5.0 / 32.0 * h * (a.jet[1] - b.jet[1]) +
           h * h / 64.0 * (a.jet[2] + b.jet[2]);
}

void refine(const std::function<Jet2(double)>& function, const Knot& a, const Knot& b,
            double tolerance, int depth, std::vector<Knot>& knots) {
    const double middle = 0.5 * (a.at + b.at);
    const Knot m{middle, function(middle)};
    if (depth > 0 && (hermite_middle(a, b) - m.jet[0]).norm() > tolerance) {
        refine(function, a, m, tolerance, depth - 1, knots);
        refine(function, m, b, tolerance, depth - 1, knots);
        return;
    }
    // The middle was paid for: keep it, and be far better than the tolerance.
    knots.push_back(m);
    knots.push_back(b);
}

/// Blossom of the degree-5 piece about knot k, three arguments equal to the knot and two others.
Vector2 blossom(const Knot& k, double p, double q) {
    const double dp = p - k.at, dq = q - k.at;
    return k.jet[0] + (dp + dq) / 5.0 * k.jet[1] + dp * dq / 20.0 * k.jet[2];
}

}  // namespace

Spline fit_quintic(const std::function<Jet2(double)>& function, double from, double to,
                   double tolerance) {
    constexpr int deepest = 40;
    // Starts with an eighth of a turn at most, so that no symmetry hides an error at the middle.
    const int pieces = std::max(1, static_cast<int>(std::ceil((to - from) / (0.25 * pi))));
    std::vector<Knot> knots = {{from, function(from)}};
    for (int i = 1; i <= pieces; ++i) {
        const Knot start = knots.back();
        const double at = i == pieces ? to : from + (to - from) * i / pieces;
        refine(function, start, {at, function(at)}, tolerance, deepest, knots);
    }
    Spline spline;
    spline.degree = 5;
    spline.knots.assign(6, from);
    for (std::size_t i = 0; i < knots.size(); ++i) {
        const Knot& k = knots[i];
        const bool is_first = i == 0, is_last = i + 1 == knots.size();
        const double before = is_first ? k.at : knots[i - 1].at;
        const double after = is_last ? k.at : knots[i + 1].at;
        if (is_first) {
            spline.poles.push_back(k.jet[0]);
            spline.poles.push_back(blossom(k, k.at, after));
            spline.poles.push_back(blossom(k, after, after));
        } else if (is_last) {
            spline.poles.push_back(blossom(k, before, before));
            spline.poles.push_back(blossom(k, before, k.at));
            spline.poles.push_back(k.jet[0]);
        } else {
            spline.poles.push_back(blossom(k, before, before));
            spline.poles.push_back(blossom(k, before, after));
            spline.poles.push_back(blossom(k, after, after));
            spline.knots.insert(spline.knots.end(), 3, k.at);
        }
    }
    spline.knots.insert(spline.knots.end(), 6, to);
    return spline;
}

}  // namespace planform::flatten
