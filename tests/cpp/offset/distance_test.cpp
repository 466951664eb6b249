/// Every point of an offset lies at the distance, every point of the plane on its side.
///
/// The judge is the search for the nearest point on the exact curves (curve/nearest), which has
/// nothing in common with the way offsets are made.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <random>

#include "offset/judge.hpp"
#include "offset/random_outlines.hpp"
#include "planform/offset.hpp"
#include "planform/write.hpp"

using namespace planform;

namespace {

int sets() { return std::getenv("PLANFORM_LONG_TESTS") ? 500 : 24; }

double size_of(const ProfileSet& set) { return set.bounds().sizes().maxCoeff(); }

}  // namespace

TEST_CASE("random sets: distances and sides") {
    int samples = 0, grid = 0;
    double worst_exact = 0.0, worst_corner = 0.0, worst_fitted = 0.0;
    const char* only = std::getenv("PLANFORM_SEED");
    for (int seed = only ? std::atoi(only) : 1; seed <= (only ? std::atoi(only) : sets()); ++seed) {
        // From 4 curves up to 10^4, most of them few.
        const int curves = seed % 50 == 0 ? 10000 : 4 + seed * seed * 7 % 190;
        const ProfileSet set = random_outlines::set(static_cast<std::uint32_t>(seed), curves);
        const double size = size_of(set);
        std::mt19937 random(static_cast<std::uint32_t>(seed));
        const double largest = std::log(0.5 * size / 0.001);
        const double share = std::uniform_real_distribution<double>(0.0, 1.0)(random);
        const double distance = 0.001 * std::exp(share * largest);
        for (const double d : {distance, -std::min(distance, 0.1 * size)}) {
            CAPTURE(seed);
            CAPTURE(d);
            ProfileSet result;
            try {
                result = offset(set, d).profiles;
            } catch (const std::exception& error) {
                FAIL_CHECK(error.what());
                continue;
            }
            const judge::Verdict verdict =
                judge::examine(set, d, result, curves > 999 ? 3 : 12, curves > 999 ? 20 : 40);
            samples += verdict.samples;
            grid += verdict.grid;
            worst_exact = std::max(worst_exact, verdict.worst_exact);
            worst_corner = std::max(worst_corner, verdict.worst_corner);
            worst_fitted = std::max(worst_fitted, verdict.worst_fitted);
            const bool right =
                verdict.wrong == 0 && verdict.worst_exact <= 1e-9 * std::max(1.0, size / 100) &&
                verdict.worst_corner <= 2e-6 && verdict.worst_fitted <= 0.1 * set.tolerance();
            if (!right) {
                CAPTURE(verdict.wrong);
                CAPTURE(verdict.worst_exact);
                CAPTURE(verdict.worst_corner);
                CAPTURE(verdict.worst_fitted);
                CAPTURE(verdict.where.x());
                CAPTURE(verdict.where.y());
                if (only)
                    write_json(set, "/tmp/off_set.json"), write_json(result, "/tmp/off_res.json");
                CHECK(right);
            }
        }
    }
    MESSAGE("worst of lines and arcs ", worst_exact, ", of their ends ", worst_corner,
            ", of splines ", worst_fitted, ", ", samples, " samples, ", grid, " places");
    if (!only) {
        CHECK(samples > 1000 * sets());
        CHECK(grid > 1000 * sets());
    }
}
