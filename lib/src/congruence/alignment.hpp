#pragma once

/// Motions that may carry one figure onto another, and the fit that decides.

#include <vector>

#include "congruence/figure.hpp"

namespace planform::congruence {

/// Rotations, or reflections if `mirrored`, about the origin, that the angular moments leave
/// possible, with the place's greatest distance in mm from where an exact motion would take it.
struct Candidates {
    std::vector<double> angles;
    double slack = 0.0;
};
/// `half_tolerance`: how far any place of one may be from its partner, mm.
Candidates candidate_angles(const Figure& first, const Figure& second, bool mirrored,
                            double half_tolerance);

/// first centre -> second centre, turned by `angle`, mirrored in x first if asked.
Transform2 motion_about_centres(const Figure& first, const Figure& second, double angle,
                                bool mirrored);

/// Contours of the first figure with their partners under a motion: index in the second, or empty
/// if some contour has none of its role and area with its centroid within `slack` mm.
std::vector<std::size_t> partners(const Figure& first, const Figure& second,
                                  const Transform2& motion, double half_tolerance, double slack);

}  // namespace planform::congruence
