#pragma once

/// Processor time of this process, and the alarm that ends it.

#include <sys/time.h>

#include <cmath>
#include <ctime>

namespace corpus {

class ProcessorTime {
  public:
    double seconds() const { return now() - start_; }

  private:
    static double now() {
        timespec time{};
        clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
        return static_cast<double>(time.tv_sec) + 1e-9 * static_cast<double>(time.tv_nsec);
    }
    double start_ = now();
};

/// A flattening that takes longer hangs, s of processor time (the machine may be busy otherwise).
inline constexpr double hang_limit = 10.0;
/// For reading a file, and for the mesh and the judge, s.
inline constexpr double read_limit = 60.0, judge_limit = 60.0;
/// For the kernel to make a body, s.
inline constexpr double make_limit = 15.0;

/// Ends this process by SIGPROF after so many seconds of processor time; replaces the alarm before.
inline void arm_timer(double seconds) {
    itimerval timer{};
    timer.it_value.tv_sec = static_cast<time_t>(std::floor(seconds));
    timer.it_value.tv_usec = static_cast<suseconds_t>(1e6 * (seconds - std::floor(seconds)));
    setitimer(ITIMER_PROF, &timer, nullptr);
}

}  // namespace corpus
