#pragma once

/// Silhouettes and sections: from solids to profile sets.

#include <span>

#include "planform/model.hpp"
#include "planform/profile.hpp"

namespace planform {

/// How the outlines of several solids become one profile set.
enum class Merge {
    unite,  ///< the union of all (in Python and at the command line: "union")
    keep,   ///< side by side, each profile with its solid's name
};

struct FlattenOptions {
    /// Bound in mm on the distance between the true outline and the result. Lines and arcs of the solid
    /// are exact to 1e-9 relative whatever the tolerance.
    double tolerance = 0.01;
    Merge merge = Merge::unite;
};

/// The outline of the shadow of the solids on the datum, through-holes included: closed, oriented, free
/// of self-crossing. Throws GeometryError that names the solid and the face if that can't be had.
ProfileSet silhouette(std::span<const Solid> solids, const Datum& datum,
                      const FlattenOptions& options = {});

/// The outline of the solids where the datum, moved by `offset` mm along its normal, cuts them. Where the
/// plane lies in a face, the answer is the limit from the side that the normal points away from (the
/// material just below the plane). A plane that misses gives an empty set with a note that says so.
ProfileSet section(std::span<const Solid> solids, const Datum& datum, double offset = 0.0,
                   const FlattenOptions& options = {});

}  // namespace planform
