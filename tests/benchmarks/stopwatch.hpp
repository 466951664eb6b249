#pragma once

#include <algorithm>
#include <ctime>

namespace benchmark {

/// Counts the time of the processor that this process has used, so that what else the machine does
/// hardly counts. All that is compared runs in one thread.
class Stopwatch {
  public:
    /// Milliseconds since it was made.
    double milliseconds() const {
        return 1000.0 * static_cast<double>(std::clock() - start_) / CLOCKS_PER_SEC;
    }

  private:
    std::clock_t start_ = std::clock();
};

/// The least of several runs, in ms, after one run that does not count: at least two, more until
/// `budget` ms are used up, `most` at most. If already the first run takes `long_run` ms, it counts
/// and there is no other. The same rule for us and for the peers.
template <class Work>
double fastest(Work&& work, double budget = 200.0, int most = 25) {
    constexpr int least = 2;
    constexpr double long_run = 2000.0;
    const Stopwatch first;
    work();
    if (first.milliseconds() > long_run) return first.milliseconds();
    const Stopwatch all;
    double best = 1e300;
    for (int i = 0; i < most && (i < least || all.milliseconds() < budget); ++i) {
        const Stopwatch one;
        work();
        best = std::min(best, one.milliseconds());
    }
    return best;
}

}  // namespace benchmark
