#pragma once

/// Ranges of numbers, for bounds.

#include <algorithm>

namespace planform::flatten {

/// A closed range of numbers.
struct Range {
    double low, high;
};

inline Range operator+(const Range& a, const Range& b) { return {a.low + b.low, a.high + b.high}; }
inline Range operator*(const Range& a, const Range& b) {
    const auto [low, high] =
        std::minmax({a.low * b.low, a.low * b.high, a.high * b.low, a.high * b.high});
    return {low, high};
}
inline Range operator*(double a, const Range& b) { return Range{a, a} * b; }

/// Values of a cos t + b sin t over a range of angles.
Range wave(double a, double b, double from, double to);

}  // namespace planform::flatten
