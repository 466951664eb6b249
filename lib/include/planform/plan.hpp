#pragma once

/// The cut plan: in which order, from where and how the beam cuts what lies on a sheet, and how
/// long that takes.
///
/// What lies where is given: pieces with their outlines as the tool goes (see allowance.hpp) where
/// they lie on the sheet. Millimetres, seconds, kilograms, radians. The same input gives the same
/// plan.
///
/// A plan is proven before it is handed out: it is replayed cut by cut, and every entry is measured
/// against every contour on the sheet. One that breaks a law is an error (law_broken), never a
/// result.

#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "planform/allowance.hpp"
#include "planform/inspect.hpp"
#include "planform/profile.hpp"
#include "planform/proof.hpp"

namespace planform {

/// One piece where it lies on the sheet.
struct PlacedPiece {
    std::string name;
    /// The way of the tool. Profiles of several pieces must not overlap.
    ProfileSet outline;
    /// kg; 0: unknown.
    double mass = 0.0;
    /// Curves that nothing is to start on, walls that meet other parts for instance, if there is
    /// room elsewhere.
    std::vector<CurveAddress> avoid;
};

/// What the beam does along a contour.
enum class CutRole {
    mark,   ///< scored, not cut through
    hole,   ///< an inner contour: what it frees is waste
    outer,  ///< the outer contour of a profile: frees a piece, or an island
};

enum class EntryShape {
    line,  ///< straight, at an angle to the contour
    arc,   ///< a quarter of a circle, tangential to the contour
};

/// Where a cut starts if there is room.
enum class StartAt {
    middle,  ///< in the middle of the longest line
    corner,  ///< at the corner with the longest curves beside it
};

struct EntryOptions {
    EntryShape shape = EntryShape::line;
    /// Of the way from the pierce to the contour, mm; 0: the beam pierces on the contour.
    double length = 3.0;
    /// Between a line and the direction of the cut where it arrives, (0 tangential, pi/2 square),
    /// radians.
    double angle = pi / 2.0;
    /// Of the way from the contour into waste at the end, in the same shape, mm; 0: none.
    double exit_length = 0.0;
    /// The pierce keeps so far, mm, from every contour on the sheet, and the whole way from every
    /// contour but its own.
    double clearance = 1.0;
    /// Holes whose widest disc has a smaller diameter, mm, are entered from its middle.
    double least_hole = 0.0;
    StartAt start = StartAt::middle;
    /// Starts keep off places where the material behind them is narrower, mm, if there is room
    /// elsewhere.
    double web = 0.0;
    /// mm that are cut twice at the end; negative: that are left uncut.
    double over_cut = 0.0;
};

/// Bars that carry the sheet: parallel, equally far apart, at an unknown place.
struct Grate {
    double opening = 0.0;       ///< from bar to bar, mm; 0: no grate is known
    bool bars_along_x = false;  ///< else along y
};

struct HoldOptions {
    /// Of the material that is left in the cut, mm; 0: no strips. The gap in the way is wider by
    /// the width of the cut.
    double width = 0.0;
    /// Strips a piece, at least.
    int count = 2;
    /// kg that a strip carries: heavier pieces get more; 0: `count` for all.
    double mass_per_strip = 0.0;
};

enum class CutOrder {
    shortest,  ///< least travel
    apart,     ///< cuts that follow each other keep apart where that is possible: less heat
    along,     ///< in bands along the longer side of the sheet, the lower end first
};

/// Of PlanOptions::apart_count: what is cut then has long cooled down, and the search would go on
/// for long.
inline constexpr int most_apart = 16;

struct PlanOptions {
    /// Width of the cut, mm.
    double kerf = 0.0;
    EntryOptions entry;
    HoldOptions hold;
    Grate grate;
    CutOrder order = CutOrder::shortest;
    /// CutOrder::apart: so many cuts after one, most_apart at most, none begins within so many mm
    /// of it.
    int apart_count = 2;
    double apart_distance = 50.0;
    /// CutOrder::along: of a band, mm; 0: an eighth of the longer side.
    double band = 0.0;
    /// Where the head stands at first.
    Point2 home = Point2::Zero();
    /// The sheet, if it is known: entries stay on it. Its holes are places to keep clear.
    std::optional<ProfileSet> sheet;
};

/// What became of an entry.
enum class EntryRoom {
    none,       ///< none was asked for: marks, and EntryOptions::length 0
    as_asked,   ///< at the first choice of places
    moved,      ///< elsewhere on the contour
    shortened,  ///< shorter, or straight instead of an arc
    middle,     ///< from the middle of the hole
    tight,      ///< from the middle of a hole that is too small for the clearance; a finding
    left_out,   ///< there is no room: the beam pierces on the contour; a finding
};

/// One contour: how it is cut.
struct Cut {
    int piece = 0;
    int profile = 0;  ///< index in the piece's outline; -1 for a mark
    int contour = 0;  ///< 0 the outer contour, n hole n - 1; of a mark its index
    CutRole role = CutRole::outer;
    /// Index in the plan of the cut whose contour lies directly around this one; -1 if none does.
    int within = -1;
    EntryRoom room = EntryRoom::none;
    /// From the pierce to the contour; empty if the beam pierces on it.
    std::vector<Curve> entry;
    /// What is cut of the contour, head to tail from the start on; several where strips hold.
    std::vector<std::vector<Curve>> stretches;
    /// What is cut twice at the end.
    std::vector<Curve> over_cut;
    /// Into waste; empty if there is none.
    std::vector<Curve> exit;
    /// Least distance of the pierce from all contours on the sheet, mm; 0 where it is on one.
    double clearance = 0.0;

    /// Where the beam is first switched on.
    Point2 pierce() const;
    /// Where the contour is cut first.
    Point2 start() const;
    /// Where the beam is switched off for good.
    Point2 end() const;
    /// How often the beam is switched on; 0 for marks.
    int pierces() const;
    /// With entry, exit and over-cut, mm.
    double length() const;
};

/// What can't be had as asked, or wants to be looked at.
enum class PlanRule {
    entry_left_out,  ///< no room for an entry: the beam pierces on the contour
    entry_tight,     ///< a pierce nearer to a contour than asked
    strip_left_out,  ///< fewer strips hold a piece than asked
    common_cut,      ///< cuts of two pieces run into each other
    falls_through,   ///< a piece that may fall between the bars of the grate
    drop_out,        ///< a piece, or what falls out of a hole, that may tip up
};

struct PlanFinding {
    PlanRule rule = PlanRule::entry_left_out;
    Severity severity = Severity::warning;
    int piece = -1;
    int other_piece = -1;  ///< of a common cut
    int cut = -1;          ///< index in the plan
    Point2 place = Point2::Zero();
    std::optional<double> measured;  ///< mm; of strips their number
    std::optional<double> limit;
    std::string text;  ///< what it is and what to do
};

std::string_view word_for(PlanRule rule);
std::string_view word_for(EntryRoom room);
std::string_view word_for(CutRole role);

/// The cuts of a sheet in their order.
struct CutPlan {
    std::vector<Cut> cuts;
    std::vector<PlanFinding> findings;  ///< by rule, then in the order of the cuts
    Point2 home = Point2::Zero();
    /// What the plan was held against.
    Proof proof;

    /// Of all ways between cuts, mm, from the home position on.
    double travel() const;
    double cut_length() const;
    double mark_length() const;
    int pierces() const;
};

/// Plans all cuts of a sheet.
///
/// Order: marks first; then whatever lies in a contour before the contour (holes before the outer
/// contour around them, islands before the hole that frees them, other pieces in a hole before the
/// hole); under these rules as `options.order` says.
///
/// Entries lie in waste. Each is tried at the places of the contour that are asked for first, then
/// elsewhere, then shorter, then straight; what has no room is a finding.
///
/// Throws GeometryError: invalid_argument for numbers out of range, an address that there is not,
/// an entry shorter than its clearance; law_broken if the plan fails its proof.
CutPlan plan_cuts(const std::vector<PlacedPiece>& pieces, const PlanOptions& options = {});

/// What has to be visited, for shortest_order().
struct Stop {
    Point2 start;
    Point2 end;
    int within = -1;  ///< index of a stop that has to come later; -1 none
};

/// An order of the stops (indices) in which none comes after the one that it lies within, with
/// little travel from each end to the next start. Nearest neighbours first, then reversals and
/// moves of stretches, with kicks of a fixed seed: no clock decides. Throws GeometryError
/// (invalid_argument) if an index is none, or stops lie within each other in a circle.
std::vector<int> shortest_order(const std::vector<Stop>& stops, const Point2& home);

/// Of the ways from each end to the next start, mm.
double travel_length(const std::vector<Stop>& stops, const std::vector<int>& order,
                     const Point2& home);

/// How fast something moves: mm/s, and mm/s^2 (infinite: at once).
struct Motion {
    double speed = 0.0;
    double acceleration = std::numeric_limits<double>::infinity();
};

/// Seconds for `length` mm on a straight way, from a speed to a speed (mm/s), the fastest that
/// speed and acceleration allow: the closed form of the trapezoid (uniformly accelerated motion).
/// Throws GeometryError (invalid_argument) for numbers out of range, or if the way is too short for
/// the change of speed.
double move_time(double length, const Motion& motion, double from = 0.0, double to = 0.0);

/// Seconds for curves head to tail, from rest to rest. On arcs the speed is at most the square root
/// of acceleration times radius (centripetal acceleration); ellipses and splines count as the arcs
/// within `tolerance` mm that stand for them. Where the direction turns by more than one degree the
/// beam comes to rest. Throws as above.
double path_time(const std::vector<Curve>& curves, const Motion& motion,
                 double tolerance = default_tolerance);

/// What the machine needs; all of it the user's own figures.
struct MachineFigures {
    Motion cutting;
    Motion marking;
    Motion travel;
    double pierce_time = 0.0;  ///< s
};

/// Seconds of one cut.
struct CutTime {
    double travel = 0.0;  ///< from the end of the cut before
    double pierce = 0.0;
    double cutting = 0.0;  ///< with marking

    double total() const { return travel + pierce + cutting; }
};

/// One a cut, in the order of the plan. Travel between the stretches of a cut counts to its travel.
/// Throws GeometryError (invalid_argument) for speeds that are not positive where they are needed.
std::vector<CutTime> cut_times(const CutPlan& plan, const MachineFigures& figures,
                               double tolerance = default_tolerance);

/// How a piece lies on a grate wherever the bars are.
enum class Rest {
    lies,           ///< a bar carries it on both sides of its centre of gravity
    may_tip,        ///< a bar always carries it, but not always on both sides
    falls_through,  ///< it may lie between two bars
};

/// Statics of a plate on parallel bars: it has a bar on a side of its centre of gravity, wherever
/// the bars lie, if it reaches at least an opening far on that side. Measured across the bars; what
/// is counted is the outer contour with its holes. Throws GeometryError (invalid_argument) for an
/// opening that is not positive.
Rest rest_on(const Profile& profile, const Grate& grate);
std::string_view word_for(Rest rest);

}  // namespace planform
