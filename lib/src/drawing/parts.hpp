#pragma once

/// From the curves of a drawing to parts of them that lie on no other.

#include <span>
#include <vector>

#include "planform/drawing.hpp"

namespace planform::drawing {

/// A stretch of an input curve.
struct Part {
    int source;
    double from;  ///< parameters of the source, from < to
    double to;
};

struct DistinctParts {
    std::vector<Part> parts;  ///< by source, then by parameter
    std::vector<DoubledCurve> doubles;
};

/// Each place that is drawn once or more often is in one part only: of two curves on each other the
/// longer one is kept. Parts end where one of the curves on each other ends, so that what hangs
/// over can come off. `usable`: one a curve, false for those to leave out.
DistinctParts distinct_parts(std::span<const Curve> curves, const std::vector<bool>& usable,
                             const ClosingOptions& options);

/// The whole source, or the stretch of it.
Curve curve_of(const Curve& source, const Part& part);
/// True if the part is all of the source.
bool is_whole(const Curve& source, const Part& part);

}  // namespace planform::drawing
