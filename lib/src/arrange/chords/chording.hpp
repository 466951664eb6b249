#pragma once

/// Chords of the pieces, each remembering its piece and parameter range.

#include <cstdint>
#include <vector>

#include "arrange/carriers/carriers.hpp"
#include "arrange/sweep/snap_rounding.hpp"
#include "grid/grid.hpp"

namespace planform::arrange {

/// What a grid segment stands for: parameters on the carrier of its piece, ascending.
struct ChordTag {
    std::int32_t piece;
    double from;
    double to;
    double tolerance;  ///< bound in mm on its distance from the curve
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
    std::vector<double> tolerances;  ///< of the chord that begins there; 0 at the last of a piece
    std::vector<std::size_t> first;  ///< by piece; one more at the end

    Box2 bounds() const;
};

/// Snaps the polylines; chords that shrink to a point are joined with the next.
Chords snap_chords(const CarrierSet& set, const Polylines& polylines, const grid::Grid& grid);

/// Appends chords of all pieces on some carriers, those with a tolerance (by carrier, in mm; 0:
/// none), and tells by chord from before whether these take its place.
std::vector<char> chord_again(const CarrierSet& set, const std::vector<double>& tolerances,
                              const grid::Grid& grid, Chords& chords);

}  // namespace planform::arrange
