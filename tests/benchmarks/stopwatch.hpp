#pragma once

#include <algorithm>
#include <chrono>

namespace benchmark {

class Stopwatch {
  public:
    /// Milliseconds since it was made.
    double milliseconds() const {
        return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start_)
            .count();
    }

  private:
    std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
};

/// The least of several runs, in ms: as many as fit into `budget` ms, at least one, at most `most`.
/// The same rule for us and for the peers.
template <class Work>
double fastest(Work&& work, double budget = 300.0, int most = 5) {
    const Stopwatch all;
    double best = 1e300;
    for (int i = 0; i < most && (i == 0 || all.milliseconds() < budget); ++i) {
        const Stopwatch one;
        work();
        best = std::min(best, one.milliseconds());
    }
    return best;
}

}  // namespace benchmark
