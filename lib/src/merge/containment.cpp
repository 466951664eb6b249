#include "merge/containment.hpp"

#include <cmath>
#include <cstddef>
#include <limits>

namespace planform::merge {
namespace {

/// Boxes of contours that touch may overlap by the rounding of coordinates and by what counts as
/// one curve.
constexpr double box_slack = 1e-5;

bool may_hold(const Box2& outer, const Box2& inner) {
    return (inner.min() - outer.min()).minCoeff() >= -box_slack &&
           (outer.max() - inner.max()).minCoeff() >= -box_slack;
}

}  // namespace

void add_near(Operands& operands, const Profile& profile, int operand, const Box2& box) {
    operands.add_filled(profile.outer(), operand, profile.name());
    for (const Contour& hole : profile.holes())
        if (hole.bounds().intersects(box)) operands.add_hole(hole, operand, profile.name());
}

bool lies_within(const Contour& inner, const Contour& outer, double tolerance) {
    if (!may_hold(outer.bounds(), inner.bounds())) return false;
    Operands operands;
    operands.add_filled(inner, 0);
    operands.add_filled(outer, 1);
    return operands.arranged(in_first_only, tolerance).empty();
}

int hole_around(const Contour& inner, const Profile& around, double tolerance) {
    for (std::size_t i = 0; i < around.holes().size(); ++i)
        if (lies_within(inner, around.holes()[i], tolerance)) return static_cast<int>(i);
    return -1;
}

std::vector<int> parents_of(const std::vector<Profile>& profiles, double tolerance) {
    struct Hole {
        const Contour* contour;
        Box2 box;
        double area;
        std::size_t profile;
    };
    std::vector<Hole> holes;
    for (std::size_t i = 0; i < profiles.size(); ++i)
        for (const Contour& hole : profiles[i].holes())
            holes.push_back({&hole, hole.bounds(), std::abs(hole.area()), i});
    std::vector<int> parents(profiles.size(), -1);
    for (std::size_t i = 0; i < profiles.size(); ++i) {
        const Box2 box = profiles[i].bounds();
        double least = std::numeric_limits<double>::infinity();
        for (const Hole& hole : holes) {
            if (hole.profile == i || hole.area >= least || !may_hold(hole.box, box)) continue;
            if (!lies_within(profiles[i].outer(), *hole.contour, tolerance)) continue;
            least = hole.area;
            parents[i] = static_cast<int>(hole.profile);
        }
    }
    return parents;
}

}  // namespace planform::merge
