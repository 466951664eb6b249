#pragma once

#include <optional>

#include "planform/drawing.hpp"

namespace planform::drawing {

/// Two curves head to tail, and the piece between them if one was needed.
struct MendedJoint {
    Curve before;
    Curve after;
    std::optional<Curve> between;
};

/// Joins the end of one curve to the start of the next: both go on or are cut back along
/// themselves to a common point if that moves neither end by more than the gap, the shortest way
/// first: to the other's end, where it lies on the way; to the true intersection; to the point of
/// tangency. Else a piece goes in, see piece_between().
MendedJoint mend_joint(const Curve& before, const Curve& after);

/// What fills a gap between two ends that their curves don't reach by themselves: the curve that
/// both ends ask for (see blended()), a straight piece where they ask for none.
Curve piece_between(const Curve& before, const Curve& after);

/// A curve whose end is joined to its own start: an arc becomes a whole circle (or ellipse) again.
/// Nothing if its own way does not lead there.
std::optional<Curve> closed_on_itself(const Curve& curve);

/// The curve and what lies beyond its end when it goes on the same way by about `distance` mm:
/// lines straight on, arcs on their circle, splines by the polynomials of their last span.
Curve lengthened(const Curve& curve, double distance);

}  // namespace planform::drawing
