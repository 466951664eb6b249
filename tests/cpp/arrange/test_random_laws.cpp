/// Laws of areas on random inputs, in general position and on a coarse lattice.

#include <doctest/doctest.h>

#include <cstdlib>

#include "arrange/corpus.hpp"
#include "arrange/laws.hpp"
#include "arrange/random_shapes.hpp"
#include "random_count.hpp"

namespace planform::arrange::test {
namespace {

/// A longer run can be asked for with PLANFORM_RANDOM_CASES.
unsigned cases() {
    const char* wanted = std::getenv("PLANFORM_RANDOM_CASES");
    return static_cast<unsigned>(wanted ? std::atoi(wanted) : random_count(1200, 1200));
}

void check_laws(bool lattice, unsigned first_seed, unsigned count) {
    unsigned failed = 0;
    for (unsigned seed = first_seed; seed < first_seed + count && failed < 5; ++seed) {
        const Input input = random_input(seed, lattice);
        std::string broken = broken_law(input, !lattice);
        if (broken.empty()) broken = broken_symmetry(input, 0.1 + 0.001 * (seed % 1000), !lattice);
        if (broken.empty()) continue;
        ++failed;
        FAIL_CHECK(corpus_entry("random-" + std::to_string(seed), broken, input));
    }
}

TEST_CASE("laws on curves in general position") { check_laws(false, 1000, cases()); }

TEST_CASE("laws on a lattice, where much coincides") { check_laws(true, 500000, cases()); }

}  // namespace
}  // namespace planform::arrange::test
