#pragma once

/// One order for the same curves, whatever the order in which a caller collected them.

#include "arrange/chains/input.hpp"

namespace planform::arrange {

/// The same curves and the nodes they use, sorted by their numbers: the result of an arrangement
/// depends on which of two curves that are all but the same comes first. Equal curves go by tag.
/// O(n log n).
Input in_canonical_order(const Input& input);

}  // namespace planform::arrange
