#pragma once

/// What must hold for every input: read by the random tests, the corpus test and the fuzz target.

#include <string>

#include "arrange/arrange.hpp"

namespace planform::arrange::test {

/// Empty if the four booleans of the two operands are sound loops with the areas of the scanline
/// and |A| + |B| = |A or B| + |A and B|; else the first law that is broken. `strict`: no two curves
/// of the input are nearly tangent or nearly the same, so the last holds to 1e-9 relative.
std::string broken_law(const Input& input, bool strict);

/// Empty if the union's area is the same after a turn by `angle`, a mirror, a change of order,
/// reversal with w < 0 as inside, and doubling.
std::string broken_symmetry(const Input& input, double angle, bool strict);

}  // namespace planform::arrange::test
