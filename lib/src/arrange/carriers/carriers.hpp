#pragma once

/// Same curves are found first: pieces that lie on one carrier (a line, circle, ellipse or spline)
/// are split at each other's ends and added up, so that coincidences never reach the arithmetic.

#include <limits>
#include <vector>

#include "arrange/chains/input.hpp"
#include "curve/angles.hpp"

namespace planform::arrange {

/// An unbounded line (parameter: mm from its base point), a whole circle or ellipse (parameter:
/// angle) or a spline (its own parameter).
struct Carrier {
    enum class Kind { line, circle, ellipse, spline };
    Kind kind;
    Curve curve;  ///< line: a unit length of it; circle, ellipse: the whole; spline: itself

    Point2 position(double parameter) const;
    Vector2 direction(double parameter) const;  ///< derivative, not normalised
    Vector2 second_derivative(double parameter) const;
    bool is_periodic() const { return kind == Kind::circle || kind == Kind::ellipse; }
    /// About how far (mm) one gets from the point at `from` on the way to `to`: tells whether a
    /// stretch is short, also where a spline or the tip of a thin ellipse stands still or comes
    /// back.
    double extent(double from, double to) const;
    /// The directed piece between two parameters; from > to runs against the carrier.
    Curve piece(double from, double to) const;
    /// Parameter of the point nearest to `point`, next to `guess` (which settles the turn of a
    /// circle).
    double parameter_near(const Point2& point, double guess) const;
};

/// A stretch of a carrier over which the added weights don't change.
struct Piece {
    int carrier;
    double from;  ///< < to
    double to;
    int start_node;
    int end_node;
    Winding weight;
    int tag;  ///< the lowest of the input curves' tags that lie on it
};

struct CarrierSet {
    std::vector<Point2> nodes;  ///< welded
    std::vector<Carrier> carriers;
    std::vector<Piece> pieces;  ///< weights not all zero
};

/// Curves within `same` mm of each other are one carrier, lines and circles if they are within
/// `same_line` mm, too. Where weights cancel, nothing is left.
CarrierSet collect_carriers(const Input& input, double same,
                            double same_line = std::numeric_limits<double>::infinity());

}  // namespace planform::arrange
