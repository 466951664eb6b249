#pragma once

/// Raw loops: parallel curves and what joins them, head to tail.

#include <vector>

#include "arrange/arrange.hpp"
#include "offset/corner.hpp"
#include "planform/curve.hpp"

namespace planform::offset_detail {

/// A curve without creases inside, the distance to its right (mm, may be negative or 0), and the
/// caller's tag.
struct Element {
    Curve curve;
    double distance;
    int tag;
};

/// A chain whose bands reach differently far, see ShortBands.
struct BandedChain {
    std::vector<Element> parts;   ///< `distance`: how far the band reaches
    std::vector<double> corners;  ///< by part: how far the join behind it would, if there is one
};

/// Parallel curves whose ends are this near (mm) to each other at a joint meet: the confusion of
/// common solid modellers, which the arrangement takes for one point, too.
constexpr double joint = 2e-7;

/// Curves head to tail, closed; one tag a curve.
struct RawLoop {
    std::vector<Curve> curves;
    std::vector<int> tags;
};

/// How loops are made.
struct LoopStyle {
    CornerStyle corners;
    double bound;  ///< mm that the parallel curves of ellipses and splines may be off
    /// Parallels whose bands overlap at a corner are cut where they cross; else what lies beyond is
    /// left to the arrangement.
    bool cuts_corners = true;
    /// Bands are cut short where others cover the same; else all of them reach as far as they are
    /// moved.
    bool shortens_bands = true;
};

/// The raw loop of a closed chain whose distances are all at least 0, or all at most 0.
///
/// Its winding number is that of the chain plus (distances to the right of a counter-clockwise
/// chain; else less) one for each band that a point lies in: bands of curves (see Parallel) and
/// joins at corners where bands part. Where bands overlap the loop goes through the corner itself.
/// Every band lies within the distance of the chain, and every point within the distance is in a
/// band (that of its nearest place, before the focal point): so for round corners and one distance
/// the winding number is positive exactly where the chain's is or the chain is near enough.
RawLoop raw_loop(const std::vector<Element>& chain, const LoopStyle& style);

/// The same with bands that reach as far as the chain says: at the ends of each the loop goes along
/// the normal to the next.
RawLoop raw_loop(const BandedChain& chain, const LoopStyle& style);

/// For chains with distances of both signs: what is taken, as loops with the winding number 1 in
/// each band to the left of curves with a negative distance. Where such a band ends at a curve that
/// gives, it is led on to the latter's parallel.
std::vector<RawLoop> taken_loops(const std::vector<Element>& chain, const LoopStyle& style);

/// Closes gaps that are too wide for a contour as small as this one: lines and splines are led to
/// their neighbour's end, between arcs goes a straight piece.
void close_gaps(RawLoop& loop);

/// Adds a raw loop to the input of an arrangement.
void add_loop(arrange::Input& input, const RawLoop& loop, int weight, int operand);

}  // namespace planform::offset_detail
