#pragma once

/// Are two outlines the same, wherever they lie?

#include <optional>
#include <span>

#include "planform/geometry.hpp"
#include "planform/profile.hpp"

namespace planform {

/// Which motions may carry one outline onto another.
enum class Turning {
    never,    ///< moves and turns in the plane
    allowed,  ///< those; if there is none, also mirrored ones (turning the sheet over)
    only,     ///< mirrored ones only
};

struct CongruenceOptions {
    /// Two outlines are congruent if no distance between two places differs by more than this, mm:
    /// a motion carries every contour within half of it of its partner, and back. A hole that is
    /// moved against the rest by more makes another outline. Default: that of flattening.
    double tolerance = 0.01;
    Turning turning = Turning::never;
};

struct Congruence {
    /// Carries the first onto the second: a rotation, or a reflection if `mirrored`, and a shift.
    Transform2 motion = Transform2::Identity();
    bool mirrored = false;
    /// The greatest distance of a sampled point of one from the partner's curve, mm: at most half
    /// of the tolerance.
    double deviation = 0.0;
};

/// A motion that carries the first outline onto the second, or nothing. Profiles, holes and marks
/// are matched with their like, whatever their order, start points, splitting and kinds of curve;
/// names don't count. What is found is verified on samples of the exact curves, both ways; it may
/// fail to find a motion only where an outline has no angular moment of orders 1 to 512 above the
/// tolerance and still is no set of concentric circles. Throws GeometryError (invalid_argument) if
/// the tolerance is not positive and finite.
std::optional<Congruence> find_congruence(const ProfileSet& first, const ProfileSet& second,
                                          const CongruenceOptions& options = {});

/// The same for stacks of outlines, such as sections at several heights: one motion carries each
/// onto its partner of the same number.
std::optional<Congruence> find_congruence(std::span<const ProfileSet> first,
                                          std::span<const ProfileSet> second,
                                          const CongruenceOptions& options = {});

}  // namespace planform
