#pragma once

/// What joins two parallel curves at a corner.

#include <optional>
#include <vector>

#include "offset/smooth_curve.hpp"
#include "planform/curve.hpp"
#include "planform/offset.hpp"

namespace planform::offset_detail {

struct CornerStyle {
    Corners corners = Corners::round;
    double limit = 4.0;
};

/// A corner between two curves: where it is, and the curves' ends there.
struct Corner {
    Point2 point;
    Place before;
    Place after;

    /// Signed turn of the direction, positive to the left, in [-pi, pi]. A turn by a half is to
    /// the left if the curve after lies to the left of the one before.
    double turn() const;
};

/// True if the bands of `distance` mm to the right of both curves part at the corner, by more than
/// `joint` mm; false where they overlap or meet.
bool bands_part(const Corner& corner, double distance, double joint);

/// The way round the corner from the parallel point of the curve before to that of the curve after,
/// for bands that part.
std::vector<Curve> join(const Corner& corner, double distance, const CornerStyle& style);

/// A parallel curve's end at a corner. `apart`: it is there, at `distance` mm to the right of the
/// curve's own end; else the parallel runs backward there. `curve` is the parallel's last (first)
/// piece: the curve itself for the distance 0.
struct ParallelEnd {
    double distance;
    bool apart;
    Curve curve;
};

/// Where parallel curves of different distances meet: the way from the end of the one before to
/// their intersection, and from there to the start of the one after, each along its own curve,
/// forward or back. Lines and circles go on as such, splines and ellipses straight.
struct Meeting {
    Point2 point;
    double way_before;  ///< mm from the end to the point along the curve before, negative: back
    double way_after;   ///< mm from the start to the point along the curve after
    std::vector<Curve> to_point;
    std::vector<Curve> from_point;
};

/// Nothing if they don't meet within `reach` mm of the corner, or only after more than half of a
/// curve.
std::optional<Meeting> meeting(const Corner& corner, const ParallelEnd& before,
                               const ParallelEnd& after, double reach);

/// Moves an end of a line or arc along its own line or circle, by `way` mm forward, to the point
/// there; false for other curves, which stay.
bool lead_end(Curve& curve, bool at_end, const Point2& to, double way);

}  // namespace planform::offset_detail
