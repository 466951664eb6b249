#pragma once

/// Random inputs of all kinds of curve, the same for the same seed on every machine.

#include "arrange/arrange.hpp"

namespace planform::arrange::test {

/// Two to five chains of two operands, in general position within about 20 mm of the origin or, if
/// `lattice`, on a lattice of 8 x 8 mm where ends, edges, circles and tangencies coincide.
Input random_input(unsigned seed, bool lattice);

}  // namespace planform::arrange::test
