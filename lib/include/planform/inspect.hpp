#pragma once

/// Is it fit to cut? Measures a profile set against rules that are data, and says where it fails.
///
/// Lengths are mm, angles degrees where a rule gives them so. *Void* is what the cut removes or
/// leaves beside the profiles: holes, slots, notches. *Material* is what stays.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "planform/geometry.hpp"
#include "planform/profile.hpp"

namespace planform {

/// How much a finding weighs; ascending.
enum class Severity { note, warning, error };

/// What is looked for. Findings are sorted in this order within a severity.
enum class RuleKind {
    inner_width,    ///< narrowest width of a hole, slot or notch, or of a gap between profiles
    web,            ///< narrowest material between two contours
    neck,           ///< narrowest material within one contour
    point_touch,    ///< contours that meet in a point only
    straight_cut,   ///< features of the solid that a straight cut can't make
    not_flat,       ///< a solid that is no plate: what is drawn of it is its shadow
    sheet,          ///< larger than the sheet less its margin
    smallest_size,  ///< so small that it was meant in a larger unit
    largest_size,   ///< so large that it was meant in a smaller unit
    gauge,          ///< a thickness that is no usual one, but is when read in the other unit
    sharp_corner,   ///< inner corners without a radius
    small_arc,      ///< arcs of a small radius
    short_segment,  ///< short curves
    short_contour,  ///< a contour shorter than a pierce needs
    many_points,    ///< a contour of more points than a controller takes
    island,         ///< material that lies loose in a hole
    part_in_hole,   ///< a profile of another name in a hole
    drop_out,       ///< a large piece that falls out of a hole and may tip up
    // Of drawings from elsewhere (see drawing.hpp):
    open_end,      ///< an outline that does not close: how far its ends are apart
    doubled,       ///< a curve, or a part of it, that is drawn twice
    stray,         ///< a curve that bounds nothing
    crossing,      ///< outlines that cross themselves or each other
    zero_length,   ///< a curve without length
    unread,        ///< an entity of a drawing that can't be read
    drawing_unit,  ///< a drawing that does not say its unit, or not clearly
    role,          ///< a layer or colour that says other than how outlines lie in each other
    left_over,     ///< points, text and other entities that are not cut
    block,         ///< outlines that were drawn as instances of a block
    hatch,         ///< the boundary of a hatch, which is no cut unless a role says so
    empty,         ///< a drawing without a curve to cut
    off_plane,     ///< curves that leave the plane z = 0
    uneven_scale,  ///< a block that is placed with different scales along x and y
    flattened,     ///< a run of short lines that few arcs and lines follow
    // Of allowances and round tools (see offset.hpp):
    contour_gone,  ///< an allowance leaves nothing of a hole or a profile
    split,         ///< an allowance parts what was one
    merged,        ///< an allowance joins what was apart
    unreached,     ///< a place that a round tool does not reach
    relief,        ///< an inner corner that has no room for its relief
};

/// A narrow place of void or material, where it is narrowest.
struct NarrowPlace {
    enum class Kind {
        inner,  ///< void: a hole, a slot, a notch, a gap between profiles
        web,    ///< material between two contours
        neck,   ///< material within one contour
    };
    Kind kind = Kind::inner;
    double width = 0.0;
    Point2 center = Point2::Zero();
    std::vector<Point2> touching;  ///< two points, or three where no two lie opposite each other
    int profile = -1;              ///< of the first point
    int contour = -1;              ///< 0 the outer contour, 1 the first hole, ...
    int other_profile = -1;        ///< of the last point
    int other_contour = -1;
};

/// All narrow places of at most `at_most` mm, from the medial axis; by kind, width, place.
///
/// What counts: a disc that touches the outline at both ends of a diameter and has none of it
/// inside, where the clearance falls to no side along the axis (where it stays the same for a
/// stretch, the middle of the stretch stands for all of it). Where a hole (or a profile) has no
/// such place, its widest disc counts: the diameter of a round hole, the minor axis of an ellipse,
/// the inscribed circle of a triangle. So the width is twice the least inward offset at which the
/// hole falls apart or vanishes. A notch (or a tab) that opens by up to 30 degrees and is one and a
/// half times as deep as wide counts at its bottom: the disc that touches both walls and the
/// bottom. A sharp corner is no narrow place, nor is a wedge that ends in one.
///
/// Widths and places are those of the exact curves, by Newton's method, to 1e-9 of the outline's
/// size; only where the clearance varies by less than a quarter of the set's tolerance, a least
/// width may be missed in favour of one within that of it. Throws GeometryError (invalid_argument)
/// if `at_most` is not a positive finite number.
std::vector<NarrowPlace> narrow_places(const ProfileSet& profiles, double at_most);

/// In what a rule's limit is given.
enum class LimitUnit { thicknesses, millimetres, degrees, points, none };

/// One rule: its limit and how much a finding of it weighs.
struct Rule {
    RuleKind kind;
    bool enabled = true;
    Severity severity = Severity::warning;
    double limit = 0.0;
    LimitUnit unit = LimitUnit::none;
    std::string description;  ///< what is looked for, one sentence
    std::string source;       ///< a standard, or "common practice, no source"
};

/// The rules of one inspection: one of each kind, in the order of RuleKind.
class RuleSet {
  public:
    /// The documented default set.
    RuleSet();
    const std::vector<Rule>& rules() const { return rules_; }
    const Rule& rule(RuleKind kind) const;
    /// The set with one rule changed. Throws GeometryError (invalid_argument) for a limit that is
    /// negative or not finite, for a rule without one, or for a unit that the rule does not take:
    /// those in mm or thicknesses take both, others their own only.
    RuleSet with_limit(RuleKind kind, double limit) const;
    RuleSet with_limit(RuleKind kind, double limit, LimitUnit unit) const;
    RuleSet with_severity(RuleKind kind, Severity severity) const;
    RuleSet with_enabled(RuleKind kind, bool enabled) const;

  private:
    std::vector<Rule> rules_;
};

/// The word for a kind in rule files, tables and Python, e.g. "inner_width".
std::string_view word_for(RuleKind kind);
std::string_view word_for(Severity severity);
/// "thicknesses", "mm", "degrees", "points", "".
std::string_view word_for(LimitUnit unit);
const std::vector<RuleKind>& all_rule_kinds();

/// One result: what, where, measured, limit.
struct Finding {
    RuleKind rule = RuleKind::straight_cut;
    Severity severity = Severity::warning;
    /// Where on the drawing; of several places the worst.
    Point2 place = Point2::Zero();
    /// For a width the two (or three) points of the outline that it was measured between, else all
    /// places where there are several.
    std::vector<Point2> points;
    std::optional<double> measured;
    std::optional<double> limit;
    /// Of measured and limit: "mm", "degrees", "points", "" for none.
    std::string unit;
    int profile = -1;  ///< index in the set, -1 if it is about all of it
    int contour = -1;  ///< 0 the outer contour, 1 the first hole, ...; -1 none
    /// What it is, and what to do: one sentence each at most.
    std::string text;
};

/// A rectangle to cut from. The margin is kept free on all sides.
struct Sheet {
    double width = 0.0;
    double height = 0.0;
    double margin = 0.0;
};

struct InspectOptions {
    /// mm; without it the rules that count in thicknesses are left out.
    std::optional<double> thickness;
    RuleSet rules;
    std::optional<Sheet> sheet;
    /// Findings from elsewhere (features of the solid), sorted in with the others.
    std::vector<Finding> further;
};

/// Everything that the rules find, by severity (errors first), rule, place; the same bytes for the
/// same input. Widths are exact on the curves themselves to 1e-9 of the outline's size, or, where
/// that can't be had, within the set's tolerance. Throws GeometryError (invalid_argument) for a
/// thickness or a sheet that is not positive and finite.
std::vector<Finding> inspect(const ProfileSet& profiles, const InspectOptions& options = {});

}  // namespace planform
