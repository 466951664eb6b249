#include "flatten/bounds/range.hpp"

#include <cmath>

#include "curve/angles.hpp"
#include "planform/geometry.hpp"

namespace planform::flatten {

Range wave(double a, double b, double from, double to) {
    const double size = std::hypot(a, b), phase = std::atan2(b, a);
    const double first = a * std::cos(from) + b * std::sin(from);
    const double last = a * std::cos(to) + b * std::sin(to);
    Range range{std::min(first, last), std::max(first, last)};
    // Peaks at phase + k * 2 pi, troughs half a turn on.
    const auto meets = [&](double angle) {
        const double k = std::ceil((from - angle) / full_turn);
        return angle + full_turn * k <= to;
    };
    if (meets(phase)) range.high = size;
    if (meets(phase + pi)) range.low = -size;
    return range;
}

}  // namespace planform::flatten
