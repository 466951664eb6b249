#pragma once

/// The outlines of a set, ready to be moved.

#include <vector>

#include "offset/raw_loop.hpp"
#include "planform/offset.hpp"
#include "planform/profile.hpp"

namespace planform::offset_detail {

/// A contour as a chain of elements; tags number the curves of the set.
struct Chain {
    std::vector<Element> elements;
    int profile;
    int contour;
};

struct Source {
    std::vector<Chain> chains;       ///< profile by profile, the outer contour first
    std::vector<CurvePlace> places;  ///< by tag
};

/// All contours of a set with the distances that `distance_of` gives. Ellipses and splines that are
/// lines or arcs within `bound` (mm) are taken as such; splines are split at their creases. Throws
/// GeometryError (invalid_argument) for a distance that is not finite.
Source source_of(const ProfileSet& set, const CurveDistances& distance_of, double bound);

ContourRole role_of(const Profile& profile, int contour);
const Contour& contour_at(const ProfileSet& set, int profile, int contour);

}  // namespace planform::offset_detail
