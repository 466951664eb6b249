#pragma once

/// Allowances: outlines moved by an exact distance, what a round tool can reach, and reliefs.
///
/// Lines give lines, arcs arcs about the same centre; ellipses and splines a spline within a tenth
/// of the set's tolerance of their parallel curve. Where the result runs beside one curve it is at
/// exactly the distance from it (lines and arcs to 1e-9 of the coordinates), and nowhere nearer to
/// the outline.
///
/// What is material: as for booleans (see boolean.hpp), a point around which the contours turn more
/// often counter-clockwise than clockwise. Outlines that cross or overlap are united first. The
/// result is closed, simple and oriented; profiles that meet become one, those that fall apart
/// several. Marks are scored and stay where they are; datum, tolerance, name and notes are kept.
/// Curves that come nearer to each other than the resolution (see DEVELOPERS.md) are one.
///
/// Changes in kind (a hole that fills, a profile that vanishes, splits or meets another) are
/// findings, and sentences in the notes of the result: never in silence.
///
/// Millimetres throughout. The same input gives the same bytes.

#include <functional>
#include <string>
#include <vector>

#include "planform/inspect.hpp"
#include "planform/profile.hpp"

namespace planform {

/// What lies about a corner where the moved curves part.
enum class Corners {
    round,  ///< an arc about the corner: all points at the distance, none further
    sharp,  ///< the moved curves go on straight until they meet; flat beyond the limit
    flat,   ///< straight from the end of one to the start of the other
};

/// What a contour is in its set.
enum class ContourRole {
    outer,   ///< the outer contour of a profile that lies in no other
    hole,    ///< an inner contour
    island,  ///< the outer contour of a profile that lies in a hole of another
};

struct OffsetOptions {
    Corners corners = Corners::round;
    /// Sharp corners: greatest distance of the tip from the corner, as a multiple of the distance
    /// moved; at least 1. 4 keeps corners of 29 degrees and more. Source of the measure and of 4:
    /// stroke-miterlimit, SVG 2 (W3C), section 13.5.4. Also the furthest that curves of different
    /// distances are led on to meet.
    double limit = 4.0;
};

/// One curve of a set.
struct CurvePlace {
    int profile = 0;  ///< index in the set
    int contour = 0;  ///< 0 the outer contour, 1 the first hole, ...
    int curve = 0;    ///< index in the contour
    ContourRole role = ContourRole::outer;
};

/// All curves of the profiles of a set, in order: profile by profile, the outer contour first.
std::vector<CurvePlace> curve_places(const ProfileSet& set);

/// mm by which a curve moves: positive grows the material, negative takes from it, 0 leaves it.
using CurveDistances = std::function<double(const CurvePlace&)>;

/// An outline that was changed, and what there is to say about it.
struct Allowed {
    ProfileSet profiles;
    /// Changes in kind, sorted by rule and place: RuleKind::contour_gone, split, merged, unreached,
    /// relief. Indices are those of the set that went in.
    std::vector<Finding> findings;
};

/// Moves all outlines by `distance` mm: positive grows the material (outer contours outward, holes
/// inward), negative takes from it. 0 gives the set itself. If nothing is left the result is empty,
/// and a finding says so.
///
/// Throws GeometryError: invalid_argument for a distance or limit that is not finite or a limit
/// below 1; contour_not_closed with the place for outlines that can't be told apart.
Allowed offset(const ProfileSet& set, double distance, const OffsetOptions& options = {});

/// The same with a distance by curve. Neighbours with different distances meet in the intersection
/// of what they are moved to, led on if need be (circles as circles, splines and ellipses
/// straight); where there is none within limit times the greater distance of the corner, as for
/// neighbours that are tangent, a step along the normals joins them. Where what one curve adds and
/// what another takes overlap, it is taken.
///
/// `distance_of` is called once for every curve, in order. Throws as above.
Allowed offset(const ProfileSet& set, const CurveDistances& distance_of,
               const OffsetOptions& options = {});

/// What a round tool of this radius (mm) that runs outside of the material can't cut away is
/// material, too: grown by the radius, then shrunk by it. Holds the set; inner corners are rounded,
/// gaps narrower than the tool filled. Each filled place that is more than a trace is a finding
/// (RuleKind::unreached) with its area in mm^2.
///
/// Throws GeometryError: invalid_argument unless the radius is finite and positive; else as offset.
Allowed closed(const ProfileSet& set, double radius);

/// What a disc of this radius (mm) that stays in the material can reach: shrunk by the radius, then
/// grown by it. Lies within the set; outer corners are rounded, webs narrower than the disc gone.
/// Findings and errors as for closed().
Allowed opened(const ProfileSet& set, double radius);

/// Where the circle of a relief lies.
enum class ReliefStyle {
    corner,  ///< its centre on the bisector, the circle through the corner
    side,    ///< the circle touches the shorter wall in the corner and cuts into the longer one
};

struct ReliefOptions {
    ReliefStyle style = ReliefStyle::corner;
    /// mm: no relief where less material than this would be left beside it; a finding instead.
    double least_web = 1.0;
};

/// Cuts a circle of the tool's radius (mm) out of each inner corner (material turns by more than a
/// half turn about it) that is sharper than the tool, so that a square tab seats. Nothing else
/// changes. A corner that is left as it is, for its web or as its walls are too short, is a finding
/// (RuleKind::relief) with the web in mm.
///
/// Throws GeometryError: invalid_argument unless the radius is finite and positive and the least
/// web is finite and not negative.
Allowed relieved(const ProfileSet& set, double radius, const ReliefOptions& options = {});

}  // namespace planform
