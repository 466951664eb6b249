#pragma once

/// Curves that somebody has flattened to short lines, recognised again.

#include <span>
#include <vector>

#include "planform/curve.hpp"

namespace planform {

/// A line or arc in place of some curves of a chain.
struct FittedCurve {
    Curve curve;
    int first;  ///< index of the first curve of the chain that it stands for
    int count;  ///< how many, from there on; past the last curve of a closed chain comes its first
};

/// The chain with its runs of lines as few lines and circular arcs within `tolerance` (mm): no
/// point of either is further from the other. Each begins and ends in an end of a line of the run;
/// a corner of the run stays a corner, and what is no line stays as it is. A closed run without a
/// corner that one circle follows becomes a whole circle.
///
/// `chain`: head to tail; `closed`: its end is its start. Where several divisions are as few, that
/// with the least deviation is taken. O(n log n) for n lines. Throws GeometryError
/// (invalid_argument) for a tolerance that is not positive and finite and for a chain that is not
/// head to tail, and for curves that break the rules of check_curve().
std::vector<FittedCurve> fit_flattened(std::span<const Curve> chain, double tolerance,
                                       bool closed = true);

}  // namespace planform
