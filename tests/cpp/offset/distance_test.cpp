/// Every point of an offset lies at the distance, every point of the plane on its side.
///
/// The judge is the search for the nearest point on the exact curves (curve/nearest), which has
/// nothing in common with the way offsets are made. tests/python/long/long_offsets.py runs these in
/// full, on real outlines too, with Shapely as a second judge.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "offset/cases.hpp"
#include "offset/judge.hpp"
#include "offset/laws.hpp"
#include "planform/offset.hpp"

using namespace planform;

namespace {

/// What the judge found on all sets.
struct Sum {
    int samples = 0;
    int grid = 0;
    double exact = 0.0;
    double corner = 0.0;
    double fitted = 0.0;

    void say() const {
        MESSAGE("worst of lines and arcs ", exact, ", of their ends ", corner, ", of splines ",
                fitted, ", ", samples, " samples, ", grid, " places");
    }
};

int curves_of(const ProfileSet& set) { return static_cast<int>(curve_places(set).size()); }

void examine(const cases::Case& tried, double distance, Sum& sum) {
    CAPTURE(tried.name);
    CAPTURE(distance);
    const ProfileSet& set = tried.set;
    const double size = set.bounds().sizes().maxCoeff();
    ProfileSet result;
    try {
        result = offset(set, distance).profiles;
    } catch (const std::exception& error) {
        FAIL_CHECK(std::string(error.what()));
        return;
    }
    const bool many = curves_of(set) > 999;
    const judge::Verdict verdict =
        judge::examine(set, distance, result, many ? 3 : 12, many ? 20 : 40);
    sum.samples += verdict.samples;
    sum.grid += verdict.grid;
    sum.exact = std::max(sum.exact, verdict.worst_exact);
    sum.corner = std::max(sum.corner, verdict.worst_corner);
    sum.fitted = std::max(sum.fitted, verdict.worst_fitted);
    CAPTURE(verdict.where.x());
    CAPTURE(verdict.where.y());
    CAPTURE(verdict.where_exact.x());
    CAPTURE(verdict.where_exact.y());
    CHECK(verdict.wrong == 0);
    CHECK(verdict.worst_exact <= 1e-9 * std::max(1.0, size / 100));
    CHECK(verdict.worst_corner <= 2e-6);
    CHECK(verdict.worst_fitted <= 0.1 * set.tolerance());
}

}  // namespace

TEST_CASE("random sets: distances and sides") {
    Sum sum;
    const cases::Seeds seeds = cases::seeds(24);
    for (int seed = seeds.first; seed <= seeds.last; ++seed) {
        const cases::Case tried = cases::random_case(seed);
        examine(tried, tried.grown, sum);
        examine(tried, -tried.taken, sum);
    }
    sum.say();
    CHECK(sum.samples > 100 * seeds.count());
    CHECK(sum.grid > 700 * seeds.count());
}

TEST_CASE("outlines of real parts: distances, sides and laws") {
    Sum sum;
    const std::vector<cases::Case> all = cases::outlines();
    for (const cases::Case& tried : all) {
        examine(tried, tried.grown, sum);
        examine(tried, -tried.taken, sum);
        CAPTURE(tried.name);
        CAPTURE(tried.grown);
        try {
            laws::growth(tried);
            laws::opening_and_closing(tried);
            laws::motions(tried);
            laws::unions(tried);
        } catch (const std::exception& error) {
            FAIL_CHECK(std::string(error.what()));
        }
    }
    sum.say();
    CHECK(!all.empty());
    CHECK(sum.samples > 10 * static_cast<int>(all.size()));
}
