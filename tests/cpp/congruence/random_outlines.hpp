#pragma once

/// Random outlines and the ways to write the same one down.

#include <random>

#include "planform/profile.hpp"

namespace outlines {

/// A motion in the plane, far enough that nothing lies where it was; with a reflection if
/// `mirrored`.
planform::Transform2 random_motion(std::mt19937_64& random, bool mirrored);

/// The same set, moved and written down in another way: other start points, curves split, holes in
/// another order.
planform::ProfileSet written_anew(const planform::ProfileSet& set,
                                  const planform::Transform2& motion, std::mt19937_64& random);

/// The set with its first hole moved by `distance` mm away from the middle of the outline.
planform::ProfileSet with_moved_hole(const planform::ProfileSet& set, double distance);

struct Drawn {
    planform::ProfileSet set;
    bool is_mirror_symmetric;  ///< by construction
};

/// A closed contour of lines and arcs, with holes: round ones, slots, splines; some with a symmetry
/// (turned copies of one sector, mirror images of one half, rings).
Drawn random_drawn(std::mt19937_64& random);

}  // namespace outlines
