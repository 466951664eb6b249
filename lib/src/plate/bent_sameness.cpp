#include <cmath>
#include <vector>

#include "planform/congruence.hpp"
#include "plate/sameness.hpp"

namespace planform::plate {

namespace {

/// Angles of bends nearer than this are the same, rad: over a wall of 100 mm a hundredth of one.
constexpr double same_angle = 1e-4;

/// Does every bend lie on one of the other plate that turns alike (or, `flipped`, the other way)?
bool same_bends(const std::vector<Bend>& first, const std::vector<Bend>& second,
                const Transform2& motion, bool flipped, double within) {
    if (first.size() != second.size()) return false;
    std::vector<bool> taken(second.size(), false);
    const auto lies_on = [&](const Bend& bend, const Bend& other) {
        const std::vector<Line>& one = bend.lines.empty() ? bend.limits : bend.lines;
        const std::vector<Line>& two = other.lines.empty() ? other.limits : other.lines;
        if (one.empty() || two.empty()) return one.empty() == two.empty();
        const Point2 a = motion * one.front().start, b = motion * one.back().end;
        const Point2 c = two.front().start, d = two.back().end;
        return ((a - c).norm() <= within && (b - d).norm() <= within) ||
               ((a - d).norm() <= within && (b - c).norm() <= within);
    };
    for (const Bend& bend : first) {
        bool found = false;
        for (std::size_t i = 0; i < second.size() && !found; ++i) {
            const Bend& other = second[i];
            if (taken[i] || other.kind != bend.kind || (other.up == bend.up) == flipped ||
                std::abs(other.angle - bend.angle) > same_angle ||
                std::abs(other.inside_radius - bend.inside_radius) > within ||
                !lies_on(bend, other))
                continue;
            taken[i] = found = true;
        }
        if (!found) return false;
    }
    return true;
}

}  // namespace

Sameness compare_bent(const Plate& first, const Plate& second, double same_within) {
    for (const bool mirrored : {false, true}) {
        const Turning turning = mirrored ? Turning::only : Turning::never;
        const auto motion = find_congruence(first.outline, second.outline, {same_within, turning});
        if (!motion) continue;
        // Seen from the other side a blank is mirrored and bends the other way.
        for (const bool flipped : {mirrored, !mirrored})
            if (same_bends(first.bends, second.bends, motion->motion, flipped, same_within))
                return flipped == mirrored ? Sameness::same : Sameness::mirrored;
    }
    return Sameness::different;
}

}  // namespace planform::plate
