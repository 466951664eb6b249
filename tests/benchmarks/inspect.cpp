/// benchmark_inspect: inspection of perforated plates against flattening them, in one run. Prints
/// Markdown. Three thicknesses: no web is narrow; all webs are just not too narrow; all are too
/// narrow and every hole is too small, a finding each.
///
///   benchmark_inspect [HOLES...]   without numbers for 10^2 to 10^5 holes

#include "planform/inspect.hpp"

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <vector>

#include "perforated_plate.hpp"
#include "planform/flatten.hpp"
#include "planform/occt.hpp"
#include "stopwatch.hpp"

using namespace planform;

namespace {

/// Holes of 2 mm with webs of 1 mm: with limits of half a thickness none is near, all are at the
/// limit, all are below.
constexpr double thicknesses[] = {0.8, 2.0, 5.0};

void measure(int holes) {
    const std::vector<Solid> solids = from_shape(benchmark::perforated_plate(holes)).solids();
    ProfileSet profiles;
    const double flatten_time =
        benchmark::fastest([&] { profiles = silhouette(solids, Datum::xy()); });
    std::printf("| %d | %.2f |", holes, flatten_time);
    for (const double thickness : thicknesses) {
        InspectOptions options;
        options.thickness = thickness;
        std::size_t findings = 0;
        const double time =
            benchmark::fastest([&] { findings = inspect(profiles, options).size(); });
        std::printf(" %.2f | %.2f | %.2f | %zu |", time, 1000.0 * time / holes, time / flatten_time,
                    findings);
    }
    std::printf("\n");
    std::fflush(stdout);
}

}  // namespace

int main(int count, char** arguments) {
    std::vector<int> sizes;
    for (int i = 1; i < count; ++i) sizes.push_back(std::atoi(arguments[i]));
    if (sizes.empty()) sizes = {100, 1000, 10000, 100000};
    std::printf("| holes | flatten, ms |");
    for (const double thickness : thicknesses)
        std::printf(" inspect at %g mm, ms | us a hole | ratio | findings |", thickness);
    std::printf("\n| ---: | ---: |");
    for (std::size_t i = 0; i < std::size(thicknesses); ++i)
        std::printf(" ---: | ---: | ---: | ---: |");
    std::printf("\n");
    for (const int holes : sizes) measure(holes);
}
