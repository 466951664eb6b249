#pragma once

/// Seeded random sets for offsets: every kind of curve, spikes, notches, neighbours that nearly
/// touch, holes.

#include <cstdint>
#include <random>
#include <vector>

#include "planform/profile.hpp"

namespace random_outlines {

/// What the contours of a set are made of.
enum class Kind { lines, rounded, arcs, ellipses, spline_pieces, one_spline, mixed };

/// A contour that is star-shaped about `center`, so simple, within `size` mm of it and nowhere
/// nearer than `least` mm; of at least `curves` curves (splines and ellipses: about as many).
planform::Contour contour(std::mt19937& random, Kind kind, const planform::Point2& center,
                          double size, double least, int curves);

/// One set a seed, some 100 mm wide: 1 to 16 profiles, most with a hole, of `curves` curves in all
/// or a few more; every third turned by some angle.
planform::ProfileSet set(std::uint32_t seed, int curves);

}  // namespace random_outlines
