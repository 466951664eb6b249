#pragma once

/// Biarcs: two circular arcs that join two points with given tangents and share a tangent where
/// they meet.

#include <array>
#include <optional>
#include <vector>

#include "planform/curve.hpp"

namespace planform::detail {

/// An arc, or a straight piece where the curvature is 0, by what stays well-conditioned for all of
/// them.
struct ArcPiece {
    Point2 start;
    Point2 end;
    Vector2 start_tangent;  ///< unit
    Vector2 end_tangent;    ///< unit
    double curvature;       ///< signed, positive turns left
    double turn;            ///< signed angle from start_tangent to end_tangent

    /// Distance of a point from the piece; exact for points nearer to it than its radius.
    double distance(const Point2& point) const;
    /// The piece as a Line (turn too small to matter) or an Arc.
    Curve curve() const;
};

using Biarc = std::array<ArcPiece, 2>;

/// The biarc with equally long tangents from `start` to `end`; its joint lies on a curve of steady
/// curvature change up to higher order. Nothing if the tangents point back so far that an arc would
/// turn by more than three quarters of a half turn.
std::optional<Biarc> make_biarc(const Point2& start, const Vector2& start_tangent,
                                const Point2& end, const Vector2& end_tangent);

/// Adds the piece's curve to the chain, or lengthens the chain's last curve if both lie on one line
/// or circle within `resolution` (mm).
void append_merging(std::vector<Curve>& chain, const Curve& next, double resolution);

}  // namespace planform::detail
