#pragma once

/// Loose curves of a drawing from elsewhere: chained to closed contours, and what is wrong with
/// them named: gaps, doubled and overlapping curves, strays, curves without length, crossings.
///
/// Lengths are millimetres. Time and memory grow with n log n for n curves that don't lie in heaps.
/// All throw GeometryError (invalid_argument) for curves that break the rules of check_curve() and
/// for limits that are negative or not finite.

#include <span>
#include <string>
#include <vector>

#include "planform/curve.hpp"
#include "planform/profile.hpp"

namespace planform {

struct ClosingOptions {
    /// Ends up to this far apart (mm) are joined and the gap is reported as closed. 0: gaps are
    /// found and left open, but for rounding.
    double gap = 0.0;
    /// Ends nearer than this (mm) are one point; a curve that is no longer has no length. A
    /// fiftieth of a micrometre: above the rounding of decimals in files, below any edge that the
    /// flattening of solids leaves (see "runs absorbed" in DEVELOPERS.md).
    double joint = 2e-5;
    /// Two loose ends nearer than this (mm) with nothing else about were meant to be one: they are
    /// joined without a word. Half of the smallest gap that is reported, a micrometre.
    double rounding = 5e-4;
    /// Curves that run within this (mm) of each other are drawn twice.
    double same = 1e-4;
};

/// A curve, or a part of it, that lies on another one.
struct DoubledCurve {
    int curve;     ///< index of the curve that is left out there
    int other;     ///< index of the curve that is kept
    Point2 start;  ///< of the part that lies on the other
    Point2 end;
    double length;  ///< of that part, mm
    bool whole;     ///< all of the curve lies on the other
};

/// Two loose ends that face each other, or one with none in reach.
struct Gap {
    /// What was done about it.
    enum class Closing {
        open,      ///< nothing: wider than the limit, or no other end to join
        extended,  ///< curves were lengthened or cut back along themselves to their common point
        blended,   ///< a curve was put in that goes on from its ends as they ask for
        bridged,   ///< a straight piece was put in
    };
    int curve;       ///< index of the curve with the loose end
    int other;       ///< that of the curve with the nearest other loose end, -1 if there is none
    Point2 place;    ///< the loose end
    Point2 partner;  ///< the other one; the same point again if there is none
    double width;    ///< between the two, mm; infinite if there is no other
    Closing closing;
};

/// Curves head to tail that close nothing.
struct OpenChain {
    std::vector<int> curves;    ///< indices
    std::vector<Curve> pieces;  ///< what lies there, head to tail: all of a curve or a part of it
    std::vector<int> sources;   ///< one a piece: index of the curve
    Point2 start;
    Point2 end;
    double length;  ///< mm
    /// It bounds nothing: a single curve beside outlines, one that hangs on a contour, or a chain
    /// that encloses next to nothing. False for what looks like an outline with a part missing:
    /// also a single curve that comes back, that is bent and lies within an outline, or that is
    /// all there is.
    bool stray;
};

/// Two outlines, or two parts of one, that cross.
struct CrossedCurves {
    int first;
    int second;
    Point2 place;
};

/// A curve without length, in a group that has none.
struct TinyCurve {
    int curve;
    Point2 place;
    double length;  ///< mm
};

/// A closed chain with where its curves come from.
struct ClosedChain {
    Contour contour;
    std::vector<int> sources;   ///< one a curve: index of the input curve, -1 for a piece put in
    std::vector<bool> changed;  ///< one a curve: not the whole input curve as it was
};

struct ClosedContours {
    std::vector<ClosedChain> chains;
    std::vector<OpenChain> open;
    std::vector<Gap> gaps;
    std::vector<DoubledCurve> doubles;
    std::vector<TinyCurve> tiny;
    std::vector<CrossedCurves> crossings;
};

/// Chains curves, in any order and direction, to closed contours.
///
/// Parts drawn twice count once. A gap of at most `options.gap` is closed exactly where it can be:
/// both curves go on (or are cut back) along themselves to their common point if that moves no end
/// by more than the gap, so lines stay lines and arcs keep centre and radius; else a curve goes in
/// if directions and curvatures at the ends fit one (splines and their neighbours), a straight
/// piece if not. Where more than two curves meet, those of one `group` (an entity, a part) stay
/// together. The result does not depend on anything but the order of the curves.
///
/// `groups`: one number a curve, or empty.
ClosedContours close_contours(std::span<const Curve> curves, const ClosingOptions& options = {},
                              std::span<const int> groups = {});

/// By contour: how many of the others lie around it. Contours must not cross.
std::vector<int> nesting_depths(std::span<const Contour> contours);

/// Profiles from contours by how they lie in each other: a contour in an odd number of others is a
/// hole of the smallest around it, one in a hole is an island. `names`: one a contour, or empty; a
/// profile has that of its outer contour. Contours must not cross. O(n sqrt n) for n curves of a
/// perforated plate.
std::vector<Profile> nested_profiles(std::span<const Contour> contours,
                                     std::span<const std::string> names = {});

}  // namespace planform
