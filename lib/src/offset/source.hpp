#pragma once

/// The outlines of a set, ready to be moved.

#include <functional>
#include <memory>
#include <vector>

#include "offset/raw_loop.hpp"
#include "offset/separation.hpp"
#include "planform/offset.hpp"
#include "planform/profile.hpp"

namespace planform::offset_detail {

/// A contour as a chain of elements; tags number the curves of the set.
struct Chain {
    std::vector<Element> elements;
    bool is_hole;
    int profile;  ///< of the outlines that are moved, see Source
};

/// The contours of a set that is plain: none cross or touch, each hole lies in its profile, each
/// profile in the open or in a hole of another. A set that isn't is united first; its curves keep
/// the tags of those they come from.
struct Source {
    std::vector<Chain> chains;       ///< profile by profile, the outer contour first
    std::vector<int> parents;        ///< by profile that is moved
    std::vector<CurvePlace> places;  ///< by tag: of the set that came
    bool was_united = false;
    /// The curves of the contours, to be asked for distances; by tag unless the set was united.
    std::shared_ptr<const LoopField> field;
    bool has_free_curves = false;  ///< ellipses or splines, perhaps recognised as lines and arcs
};

/// All contours of a set with the distances that `distance_of` gives. Ellipses and splines that are
/// lines or arcs within `bound` (mm) are taken as such; splines are split at their creases. What
/// isn't plain is arranged within `resolution` (mm). Throws GeometryError (invalid_argument) for a
/// distance that is not finite.
Source source_of(const ProfileSet& set, const CurveDistances& distance_of, double bound,
                 double resolution);

ContourRole role_of(const Profile& profile, int contour);
const Contour& contour_at(const ProfileSet& set, int profile, int contour);

/// The elements of a curve: itself as simple as it is within `bound` (mm), split at creases.
void append_elements(const Curve& curve, double distance, int tag, double bound,
                     std::vector<Element>& elements);

}  // namespace planform::offset_detail
