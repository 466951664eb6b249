#include "flatten/curves/sign_scan.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

namespace planform::flatten {
namespace {

bool positive(double value) { return value > 0.0; }

/// Root between a and b, where the sign differs: bisection guarded Illinois regula falsi (M.
/// Dowell, P. Jarratt, BIT 11 (1971)).
double bracketed_root(const std::function<double(double)>& f, double a, double fa, double b,
                      double fb) {
    for (int step = 0; step < 100 && b - a > 1e-15 * (std::abs(a) + std::abs(b)); ++step) {
        double c = b - fb * (b - a) / (fb - fa);
        if (!(c > a && c < b) || step % 4 == 3) c = 0.5 * (a + b);
        const double fc = f(c);
        if (fc == 0.0) return c;
        if (positive(fc) == positive(fb)) {
            b = c;
            fb = fc;
            fa *= 0.5;
        } else {
            a = c;
            fa = fc;
            fb *= 0.5;
        }
    }
    return 0.5 * (a + b);
}

/// Smallest value of sign * f between a and b by golden section; stops early once it is negative.
double deepest_point(const std::function<double(double)>& f, double sign, double a, double b) {
    constexpr double golden = 0.6180339887498949;
    double x1 = b - golden * (b - a), x2 = a + golden * (b - a);
    double f1 = sign * f(x1), f2 = sign * f(x2);
    for (int step = 0; step < 40 && f1 > 0.0 && f2 > 0.0; ++step) {
        if (f1 < f2) {
            b = x2;
            x2 = x1;
            f2 = f1;
            x1 = b - golden * (b - a);
            f1 = sign * f(x1);
        } else {
            a = x1;
            x1 = x2;
            f1 = f2;
            x2 = a + golden * (b - a);
            f2 = sign * f(x2);
        }
    }
    return f1 < f2 ? x1 : x2;
}

}  // namespace

SignScan scan_sign(const std::function<double(double)>& function, double first, double last,
                   int count) {
    ScanPlaces places;
    for (int i = 0; i <= count; ++i)
        places.at.push_back(i == count ? last : first + (last - first) * i / count);
    return scan_sign(function, std::move(places));
}

SignScan scan_sign(const std::function<double(double)>& function, ScanPlaces places) {
    std::vector<double>& at = places.at;
    std::vector<char>& told = places.is_told;
    if (told.empty()) told.assign(at.size() - 1, 0);
    std::vector<double> values;
    for (const double t : at) values.push_back(function(t));
    // A dip towards zero between samples of one sign may hide two roots.
    for (std::size_t i = 1; i + 1 < at.size(); ++i) {
        const double a = std::abs(values[i - 1]), b = std::abs(values[i]),
                     c = std::abs(values[i + 1]);
        const bool same = positive(values[i - 1]) == positive(values[i]) &&
                          positive(values[i]) == positive(values[i + 1]);
        if (!same || b > a || b > c || b > 0.5 * std::max(a, c)) continue;
        if (told[i - 1] != 0 && told[i] != 0) continue;
        const double sign = positive(values[i]) ? 1.0 : -1.0;
        const double dip = deepest_point(function, sign, at[i - 1], at[i + 1]);
        const double value = function(dip);
        if (positive(value) == positive(values[i])) continue;
        const std::size_t place = dip < at[i] ? i : i + 1;
        at.insert(at.begin() + static_cast<std::ptrdiff_t>(place), dip);
        values.insert(values.begin() + static_cast<std::ptrdiff_t>(place), value);
        told.insert(told.begin() + static_cast<std::ptrdiff_t>(place), 0);
        i = place;
    }
    SignScan scan;
    scan.starts_positive = positive(values.front());
    scan.ends_positive = positive(values.back());
    for (std::size_t i = 0; i + 1 < at.size(); ++i)
        if (positive(values[i]) != positive(values[i + 1]))
            scan.roots.push_back(
                bracketed_root(function, at[i], values[i], at[i + 1], values[i + 1]));
    return scan;
}

double polish_root(const std::function<double(double)>& function, double guess, double reach,
                   double first, double last) {
    const double step = 0.25 * reach;
    double a = std::max(first, guess - step), b = std::min(last, guess + step);
    double fa = function(a), fb = function(b);
    for (int i = 0; i < 30; ++i) {
        if (fa == fb) return guess;
        const double c = b - fb * (b - a) / (fb - fa);
        if (!(std::abs(c - guess) <= reach) || c < first || c > last) return guess;
        a = b;
        fa = fb;
        b = c;
        fb = function(c);
        if (fb == 0.0 || std::abs(b - a) <= 1e-15 * (std::abs(a) + std::abs(b))) return b;
    }
    return std::abs(b - a) < 1e-12 * std::max(1.0, last - first) ? b : guess;
}

}  // namespace planform::flatten
