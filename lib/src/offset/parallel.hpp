#pragma once

/// The far side of the band between a curve and its parallel curve.

#include <vector>

#include "planform/curve.hpp"

namespace planform::offset_detail {

/// A way from the one end of a band to the other, along the parallel curve where there is one.
///
/// Notation: c(t) the curve, n its unit normal to the right, k its curvature (positive turns left),
/// e the distance to the right (negative: to the left), rho = -1 / k the signed distance to the
/// centre of curvature. The parallel curve c + e n has the derivative c' (1 + e k): where 1 + e k
/// is negative it runs backward, and its points are nearer to other places of the curve. The band
/// ends at the evolute c + rho n there, so that each of its points c + s n lies before the focal
/// point.
///
/// Of the evolute only the cusps (extremes of curvature) are used, joined straight: between two of
/// them it is a convex arc, and the osculating circles are nested (A. Kneser, "Bemerkungen über
/// die Anzahl der Extreme der Krümmung auf geschlossenen Kurven", 1912), so that the straight way
/// lies within |e| of the curve where its curvature is greater. The band then covers some points
/// within |e| of the curve twice, and none beyond.
struct Parallel {
    std::vector<Curve> curves;  ///< head to tail
    /// The way starts at the parallel point c + e n, or else, where the parallel runs backward, at
    /// the curve's own start.
    bool starts_apart = true;
    bool ends_apart = true;
};

/// `e`: mm to the right of the curve, not 0. `bound`: mm that the parallel curves of ellipses and
/// splines may be off; those of lines and arcs are exact. The curve has no creases inside.
Parallel parallel(const Curve& curve, double e, double bound);

}  // namespace planform::offset_detail
