#pragma once

/// How many random cases a test runs.

#include <algorithm>
#include <cstdlib>

inline bool runs_in_full() { return std::getenv("PLANFORM_LONG_TESTS") != nullptr; }

/// `all` with PLANFORM_LONG_TESTS in the environment; else the share PLANFORM_RANDOM_SHARE (0 to 1;
/// the run under sanitizers sets it) of `usual`, 1 if that is not set, and never none. Cases are
/// numbered or drawn one after the other, so that a smaller count is the beginning of a larger one.
inline int random_count(int usual, int all) {
    if (runs_in_full()) return all;
    const char* share = std::getenv("PLANFORM_RANDOM_SHARE");
    const double wanted = share != nullptr ? std::atof(share) : 1.0;
    // Nothing, more than all, or no number at all: as if it were not set.
    if (!(wanted > 0.0 && wanted < 1.0)) return usual;
    return std::max(1, static_cast<int>(wanted * usual));
}
