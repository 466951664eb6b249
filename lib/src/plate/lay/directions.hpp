#pragma once

/// In which directions a solid may be a sheet.

#include <cstddef>
#include <optional>
#include <vector>

#include "plate/lay/face_facts.hpp"

namespace planform::plate {

/// Two ways that planar faces look, away from each other.
struct Direction {
    const Facing* lower;
    const Facing* upper;
    double area;  ///< of the smaller
};

/// By falling area, at most four; equal areas keep the order of the ways. Points into `ways`.
std::vector<Direction> directions_of(const std::vector<Facing>& ways);

/// Index of the largest planar face; of equal ones that which the top view of the part's own frame
/// shows best, then the front view, then the lower number. Nothing if there is none.
std::optional<std::size_t> largest_planar_face(const std::vector<FaceFacts>& faces,
                                               const Transform3& part);

}  // namespace planform::plate
