#pragma once

/// The kernel's word on single places where an outline and a mesh disagree.

#include <optional>
#include <vector>

#include "judge.hpp"
#include "planform/datum.hpp"
#include "planform/model.hpp"

namespace corpus {

/// Does a line along the datum's normal meet the solids within a fifth of `apart` of the place? A
/// place of which an outline keeps further away than `apart` then lies wrong, also where it is on
/// the very edge of the shadow.
std::optional<bool> ray_meets(const std::vector<planform::Solid>& solids,
                              const planform::Datum& datum, const planform::Point2& at,
                              double apart);

/// Does a place just below the plane lie in the solid? Nothing if places beside it say different
/// things.
std::optional<bool> lies_in(const planform::Solid& solid, const planform::Datum& plane,
                            const planform::Point2& at, double apart);

/// What the referee says of the disagreements of a verdict, a handful of which it looks at.
struct Ruling {
    std::vector<Disagreement> outline_wrong;
    int mesh_wrong = 0;  ///< the outline is right: the mesher left something out
    int undecided = 0;
};

template <class Referee>
Ruling ruled(const Verdict& verdict, const Referee& has_material) {
    constexpr std::size_t most = 12;
    Ruling ruling;
    const std::size_t count = verdict.disagreements.size();
    for (std::size_t k = 0; k < count && k < most; ++k) {
        const Disagreement& one = verdict.disagreements[k * count / (count < most ? count : most)];
        const std::optional<bool> said = has_material(one.at);
        if (!said)
            ++ruling.undecided;
        else if (*said == one.outline_has_material)
            ++ruling.mesh_wrong;
        else
            ruling.outline_wrong.push_back(one);
    }
    return ruling;
}

}  // namespace corpus
