#pragma once

/// Where does a function of one parameter change its sign?

#include <functional>
#include <vector>

namespace planform::flatten {

/// No more than this share of an edge is left out at each end.
constexpr double largest_margin = 0.05;

/// Signs of a function over an interval: positive or not at its start, changing at each root.
struct SignScan {
    bool starts_positive = false;
    bool ends_positive = false;
    std::vector<double> roots;  ///< ascending, strictly inside the interval
};

/// Samples at `count` >= 2 equal steps, looks closer where the function nears zero without changing
/// its sign, and brackets each root to full precision. Deterministic.
SignScan scan_sign(const std::function<double(double)>& function, double first, double last,
                   int count);

/// Places to look at, ascending and at least three.
struct ScanPlaces {
    std::vector<double> at;
    /// One an interval between places: not nought where the sign is known to stay the same. Empty:
    /// nothing is known.
    std::vector<char> is_told;
};

/// The same between given places: the interval is that from the first to the last. Nothing is
/// looked for where the sign is known to stay.
SignScan scan_sign(const std::function<double(double)>& function, ScanPlaces places);

/// A zero next to `guess`, within `reach`, by the secant method; returns `guess` if there is none.
double polish_root(const std::function<double(double)>& function, double guess, double reach,
                   double first, double last);

}  // namespace planform::flatten
