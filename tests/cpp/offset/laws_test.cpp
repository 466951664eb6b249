/// Laws of offsets on the sets of distance_test.cpp; their sources are in laws.hpp.

#include "offset/laws.hpp"

#include <doctest/doctest.h>

#include <exception>
#include <string>

#include "offset/cases.hpp"

namespace {

/// Calls `law` with the random sets and says which it was that broke it.
template <class Law>
int for_each_case(const Law& law) {
    const cases::Seeds seeds = cases::seeds(12);
    for (int seed = seeds.first; seed <= seeds.last; ++seed) {
        const cases::Case tried = cases::random_case(seed);
        CAPTURE(tried.name);
        CAPTURE(tried.grown);
        try {
            law(tried);
        } catch (const std::exception& error) {
            FAIL_CHECK(std::string(error.what()));
        }
    }
    return seeds.count();
}

}  // namespace

TEST_CASE("offsets: monotone in the distance, and growth adds up") {
    CHECK(for_each_case(laws::growth) > 0);
}

TEST_CASE("opening lies inside, closing outside, both are idempotent") {
    double changed = 0.0;
    const int seen = for_each_case(
        [&](const cases::Case& tried) { changed += laws::opening_and_closing(tried); });
    // The first sets alone hardly change.
    CHECK(changed > (seen < 12 ? 0.0 : 1.0 * seen));
}

TEST_CASE("offsets go with motions, mirrors and the start and direction of contours") {
    CHECK(for_each_case(laws::motions) > 0);
}

TEST_CASE("the offset of a union is the union of offsets") {
    CHECK(for_each_case(laws::unions) > 0);
}
