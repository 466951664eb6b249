#pragma once

/// Mean and worst of our times against a peer's.

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace benchmark {

/// Geometric mean and worst of ratios.
class Ratios {
  public:
    void add(double ratio) {
        log_sum_ += std::log(ratio);
        worst_ = std::max(worst_, ratio);
        ++count_;
    }
    void print(const char* peer) const {
        if (count_ > 0)
            std::printf("Against %s: geometric mean %.4f, worst %.3f, over %d models.\n", peer,
                        std::exp(log_sum_ / count_), worst_, count_);
    }

  private:
    double log_sum_ = 0.0, worst_ = 0.0;
    int count_ = 0;
};

}  // namespace benchmark
