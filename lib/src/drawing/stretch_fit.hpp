#pragma once

/// A stretch of points, without corners inside, as few lines and arcs.

#include <optional>
#include <vector>

#include "planform/curve.hpp"

namespace planform::drawing {

/// A piece over the points from one index to another: straight, or an arc.
struct StretchPiece {
    int from = 0;
    int to = 0;
    /// How far the middle of the arc lies left of the middle of its chord, mm; 0: straight.
    double rise = 0.0;
    /// Sum of the squared distances of the points from the piece, mm^2.
    double misfit = 0.0;
};

/// The arc from a to b with a rise; a line for none.
Curve piece_curve(const Point2& a, const Point2& b, double rise);

/// The fewest pieces within `tolerance` of the polyline through the points, of those the ones with
/// the least misfit. At least two points.
std::vector<StretchPiece> fit_stretch(const std::vector<Point2>& points, double tolerance);

/// The circle within `tolerance` of the closed polyline, if there is one that it runs round once.
std::optional<Arc> fit_circle(const std::vector<Point2>& points, double tolerance);

}  // namespace planform::drawing
