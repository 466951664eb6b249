#pragma once

/// From a bent sheet to its blank: the flat outline that is cut before bending, with its bends.
///
/// Words: *walls* are the flat parts of the sheet, *bends* join them, *rolls* are bends without a
/// wall at either side. The *neutral fibre* keeps its length in bending. *Up* is what looks at the
/// reader of the drawing. Millimetres and radians.

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "planform/curve.hpp"
#include "planform/error.hpp"
#include "planform/inspect.hpp"
#include "planform/model.hpp"
#include "planform/profile.hpp"

namespace planform {

/// Why a solid is not unfolded.
enum class NotUnfolded {
    no_bend,            ///< a flat sheet: nothing to unfold
    no_sheet,           ///< a block, a casting, a turned part: no two sides make most of it
    not_one_thickness,  ///< some of it is thicker or thinner than the sheet
    sharp_corner,       ///< walls meet without a bend, and none can be put there
    closed_ring,        ///< its walls go round and close: no flat sheet bends to that
    not_developable,    ///< a face that is curved two ways, or drawn deep
    lip_or_louvre,      ///< a collar, louvre or bead that is formed within a wall
    overlaps,           ///< the blank would lie on itself
    not_measured,       ///< the solid is not closed, or the kernel fails on it
};

/// The word for a reason, e.g. "closed ring of walls".
std::string_view word_for(NotUnfolded reason);

/// All reasons, for tests and tables.
const std::vector<NotUnfolded>& all_not_unfolded_reasons();

/// One row of a bend table: what was measured of a bend. Exactly one of allowance and deduction.
struct BendTableRow {
    double thickness = 0.0;      ///< mm
    double inside_radius = 0.0;  ///< mm
    double angle = 0.0;          ///< by which the sheet is bent, rad; 0 is flat
    /// Length of the blank between the lines where the bend begins and ends, mm.
    std::optional<double> allowance;
    /// What the blank is shorter than the two outer lengths together, mm (see bend_deduction).
    std::optional<double> deduction;
};

/// By which rule the length of a bend is found.
enum class BendRuleKind { k_factor, din_6935, table };

/// The length of bends.
///
/// By a K factor: the neutral fibre lies that share of the thickness away from the inside.
///
/// DIN 6935 (1975): the factor k = 0.65 + 0.5 lg(r / s), at most 1, halves to a K factor; below
/// 15 degrees the blank is as long as the outer lengths together. From memory, no copy at hand.
///
/// By a table: rows of the sheet's thickness (within 1 %), interpolated linearly in the angle and
/// in the inside radius; what lies outside of the rows is an error, not a guess. Rolls and
/// conical bends, which tables don't list, go by DIN 6935 then.
struct BendRule {
    BendRuleKind kind = BendRuleKind::din_6935;
    double k_factor = 0.5;  ///< 0 to 1
    std::vector<BendTableRow> table;
    /// Inside radius of bends at corners that are drawn sharp inside and not rounded by the
    /// thickness outside, mm; nothing: the thickness (common practice, no source), or 0 where that
    /// has no room.
    std::optional<double> sharp_radius;
};

/// The least ratio of inside radius to thickness in the standard's table of k; from memory.
inline constexpr double din_6935_least_ratio = 0.65;

/// The factor k of DIN 6935 for a ratio of inside radius to thickness: 0.65 + 0.5 lg(ratio), at
/// most 1. Ratios below the standard's table (din_6935_least_ratio) count as its least.
double din_6935_factor(double radius_to_thickness);

/// Length of the blank between the lines where a bend begins and ends, mm. Throws GeometryError
/// (invalid_argument) for numbers that make no bend, (no_bend_rule) for what the table lacks.
double bend_allowance(const BendRule& rule, double thickness, double inside_radius, double angle);

/// By how much the blank is shorter than the two outer lengths together, mm: these end where the
/// outsides of the walls would meet up to 90 degrees, above at the tangents across the outermost
/// point (as DIN 6935 measures; from memory).
double bend_deduction(double allowance, double thickness, double inside_radius, double angle);

/// What joins two walls.
enum class BendKind {
    bend,     ///< between walls: one axis, one radius
    conical,  ///< its radius grows along the line
    roll,     ///< no wall at one side or at both: a curl, a tube, an arc
};

std::string_view word_for(BendKind kind);

struct Bend {
    BendKind kind = BendKind::bend;
    int number = 0;              ///< from 1, in the order of the blank
    double angle = 0.0;          ///< by which the sheet is bent, rad; 0 is flat
    double inside_radius = 0.0;  ///< mm; of a conical bend in the middle of its line
    double half_angle = 0.0;     ///< of a conical bend's cone, rad, else 0
    /// True if the walls rise towards the reader.
    bool up = true;
    double allowance = 0.0;  ///< mm of blank across the line; conical: in the middle of its line
    double deduction = 0.0;  ///< see bend_deduction
    double k_factor = 0.0;   ///< where the rule put the neutral fibre
    /// The line along which the sheet is bent, in the middle of the bend: its pieces in the
    /// material, in one direction, in order.
    std::vector<Line> lines;
    /// Where the bend begins and ends: pieces of these lines in the material.
    std::vector<Line> limits;
    /// 1-based numbers in the solid, ascending; none of a bend at a corner that is drawn sharp.
    std::vector<int> faces;

    double length() const;  ///< of the pieces of its line, mm
};

struct UnfoldOptions {
    /// Bound on the distance between the true outline and the result, mm. As for FlattenOptions.
    double tolerance = default_tolerance;
    BendRule rule;
    /// Also marks where bends begin and end.
    bool mark_limits = false;
};

/// The flat outline of a bent sheet.
struct Blank {
    double thickness = 0.0;  ///< mm
    /// On the datum of the wall that stays where it is, seen from its upper side; lower left corner
    /// of its box in the origin. Bend lines are marks (see bend_up_mark).
    ProfileSet outline;
    std::vector<Bend> bends;         ///< by place: from left to right, then from below
    double volume = 0.0;             ///< of the solid, mm^3
    std::vector<std::string> notes;  ///< what a person should know, one sentence each
};

/// Names of the marks of a blank, which writers put on a layer of their own (BEND in DXF): lines
/// along which the sheet is bent up or down, and where bends begin and end.
inline constexpr std::string_view bend_up_mark = "bend up";
inline constexpr std::string_view bend_down_mark = "bend down";
inline constexpr std::string_view bend_limit_mark = "bend limit";

/// Why, where.
struct UnfoldRefusal {
    NotUnfolded reason = NotUnfolded::no_bend;
    std::string text;        ///< the reason with its figures, one sentence
    std::vector<int> faces;  ///< 1-based numbers in the solid
    std::optional<Point3> place;
    /// Of a blank that overlaps itself: its outline, which crosses itself, and where it lies on
    /// itself. Not proven, for pictures.
    std::optional<ProfileSet> outline;
    std::optional<ProfileSet> overlap;
};

/// A solid that is not unfolded.
class UnfoldError : public GeometryError {
  public:
    UnfoldError(const std::string& message, UnfoldRefusal refusal);
    const UnfoldRefusal& refusal() const { return refusal_; }

  private:
    UnfoldRefusal refusal_;
};

/// The blank of a bent sheet.
///
/// A bent sheet has one thickness throughout; flat walls, joined by bends: coaxial cylinders or
/// cones whose radii differ by the thickness, or an outer one about a sharp inner edge (radius 0).
/// Sheets that are rolled without any wall count, too. Walls that meet in an edge that is sharp on
/// both sides, or in rounds that fit no one thickness, are bent there with the outsides of the
/// walls where they are drawn, and a note says with which inside radius (BendRule::sharp_radius): a
/// press makes no sharp corner. Walls keep their exact curves; what crosses a bend is taken in the
/// middle of the thickness, where the sheet is neither stretched nor pressed much, and developed:
/// lines along or across the bend and helices become lines, other curves splines within the
/// tolerance.
///
/// The blank is proven before it is handed out (ProfileSet::proof()): folded back along its bends
/// by their angles, radii and lengths it lies on the solid, wall by wall and cut by cut, within the
/// tolerance; areas agree face by face; and volume is what the thickness makes of them.
///
/// Throws UnfoldError (not_unfolded) with the reason and its place, GeometryError for bad options
/// and what the rule can't tell.
Blank unfold(const Solid& solid, const UnfoldOptions& options = {});

/// The same: a refusal is an answer, not an error.
struct Unfolding {
    std::optional<Blank> blank;
    UnfoldRefusal refusal;  ///< if there is no blank
};
Unfolding try_unfold(const Solid& solid, const UnfoldOptions& options = {});

/// Bends of a blank that was turned or moved in its plane (turned_to_smallest_rectangle): their
/// lines in coordinates of the datum that it is on now. Throws GeometryError (invalid_argument) for
/// a datum in another plane or seen from the other side.
std::vector<Bend> bends_on_datum(std::span<const Bend> bends, const Datum& from, const Datum& to);

/// What the rules of inspection say of bends: holes too near, walls too narrow, reliefs that lack,
/// radii below `least_radius` (mm, of the material, if it is known). Distances are exact within the
/// outline's tolerance. Whether the tool of a press reaches every bend is not looked at. By
/// severity, rule, bend.
std::vector<Finding> bend_findings(const ProfileSet& outline, std::span<const Bend> bends,
                                   double thickness, const RuleSet& rules = {},
                                   std::optional<double> least_radius = std::nullopt);

}  // namespace planform
