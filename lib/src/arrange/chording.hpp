#pragma once

/// Chords of the pieces, each remembering its piece and parameter range.

#include <cstdint>
#include <vector>

#include "arrange/carriers.hpp"
#include "arrange/grid.hpp"
#include "arrange/snap_rounding.hpp"

namespace planform::arrange {

/// What a grid segment stands for: parameters on the carrier of its piece, ascending.
struct ChordTag {
    std::int32_t piece;
    double from;
    double to;
};

struct Chords {
    std::vector<GridSegment> segments;
    std::vector<ChordTag> tags;    ///< one a segment
    std::vector<Winding> weights;  ///< one a segment
};

/// Polylines of the pieces, before snapping: one list of parameters and points a piece. The first
/// and last point are the piece's nodes, so that chains stay closed.
struct Polylines {
    std::vector<double> parameters;
    std::vector<Point2> points;
    std::vector<std::size_t> first;  ///< by piece; one more at the end

    Box2 bounds() const;
};

/// `tolerances`: bound in mm on chord to curve, by carrier.
Polylines chord_pieces(const CarrierSet& set, const std::vector<double>& tolerances);

/// Snaps the polylines; chords that shrink to a point are joined with the next.
Chords snap_chords(const CarrierSet& set, const Polylines& polylines, const Grid& grid);

}  // namespace planform::arrange
