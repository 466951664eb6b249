#include "plate/lay/directions.hpp"

#include <algorithm>
#include <cmath>

namespace planform::plate {

namespace {

/// Directions that are tried: a comb has more area in its walls than in its faces, so the first is
/// not always the one.
constexpr std::size_t most_directions = 4;
/// Areas nearer than this, relative, and components of unit vectors count as equal: mirrored faces
/// differ by rounding only.
constexpr double tie = 1e-6;

/// Does a view along the frame's z, else y, show one face more squarely than another?
bool faces_view_better(const Vector3& a, const Vector3& b) {
    for (const int axis : {2, 1}) {
        const double difference = std::abs(a[axis]) - std::abs(b[axis]);
        if (std::abs(difference) > tie) return difference > 0.0;
    }
    return false;
}

}  // namespace

std::vector<Direction> directions_of(const std::vector<Facing>& ways) {
    std::vector<Direction> result;
    for (std::size_t i = 0; i < ways.size(); ++i)
        for (std::size_t j = i + 1; j < ways.size(); ++j)
            if ((ways[i].outward + ways[j].outward).norm() < same_direction)
                result.push_back({&ways[i], &ways[j], std::min(ways[i].area, ways[j].area)});
    // The ways come with equal areas in a fixed order, which stays.
    std::stable_sort(result.begin(), result.end(),
                     [](const Direction& a, const Direction& b) { return a.area > b.area; });
    if (result.size() > most_directions) result.resize(most_directions);
    return result;
}

std::optional<std::size_t> largest_planar_face(const std::vector<FaceFacts>& faces,
                                               const Transform3& part) {
    const Eigen::Matrix3d to_part = part.linear().transpose();
    std::optional<std::size_t> best;
    for (std::size_t i = 0; i < faces.size(); ++i) {
        if (!faces[i].plane) continue;
        if (best) {
            const FaceFacts& other = faces[*best];
            const bool equal = std::abs(faces[i].area - other.area) <= tie * other.area;
            if (equal ? !faces_view_better(to_part * faces[i].plane->outward,
                                           to_part * other.plane->outward)
                      : faces[i].area < other.area)
                continue;
        }
        best = i;
    }
    return best;
}

}  // namespace planform::plate
