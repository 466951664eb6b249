#pragma once

/// The heart: the union (or any other boolean) of many closed chains of curves.
///
/// The way: same curves are found and added up (carriers), each is chorded once, the chords are
/// snap rounded on an integer grid, winding numbers are found by a sweep, the boundary between
/// inside and outside is traced into loops, and runs of chords become pieces of the exact curves
/// again. No Open CASCADE here: this floor is tested, fuzzed and timed alone.

#include <functional>
#include <vector>

#include "arrange/chains/input.hpp"
#include "arrange/chains/loop.hpp"

namespace planform::arrange {

struct Options {
    /// Bound in mm on the distance between the true boundary and the result.
    double tolerance = 0.01;
    /// Which winding numbers are material. Default: the first operand's is positive.
    std::function<bool(const Winding&)> inside = [](const Winding& w) { return w[0] > 0; };
    /// None: every curve of a loop begins where the one before it ends.
    KeptGaps kept_gaps = {};
    /// mm: lines and circles that are this near to each other all along are one, and the result
    /// lies on the first of them.
    double same_line = 2e-7;
};

/// The boundary of the material as exact curves. Deterministic: same input, same output, whatever
/// the order of the curves and the numbers of the nodes. Throws ArrangementError
/// (contour_not_closed) if the input's weights don't balance at a node (the message gives the
/// place), invalid_argument for a bad tolerance or coordinates that are not finite.
std::vector<Loop> arrange(const Input& input, const Options& options = {});

}  // namespace planform::arrange
