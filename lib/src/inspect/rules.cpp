/// The rules as data: defaults, words, changes.

#include <cmath>
#include <string>

#include "planform/error.hpp"
#include "planform/inspect.hpp"

namespace planform {
namespace {

const char* const practice = "common practice, no source";

void require_limit(RuleKind kind, double limit) {
    if (!std::isfinite(limit) || limit < 0.0)
        throw GeometryError(ErrorKind::invalid_argument,
                            "rule " + std::string(word_for(kind)) + ": limit " +
                                std::to_string(limit) +
                                " must be a finite number that is not negative");
}

}  // namespace

RuleSet::RuleSet()
    : rules_{
          {RuleKind::inner_width, true, Severity::error, 0.5, LimitUnit::thicknesses,
           "Holes, slots and notches are at least this wide at their narrowest place.", practice},
          {RuleKind::web, true, Severity::error, 0.5, LimitUnit::thicknesses,
           "Material between two contours is at least this wide.", practice},
          {RuleKind::neck, true, Severity::error, 0.5, LimitUnit::thicknesses,
           "Material within one contour is at least this wide.", practice},
          {RuleKind::point_touch, true, Severity::error, 0.0, LimitUnit::none,
           "No contours meet in a point only.", practice},
          {RuleKind::straight_cut, true, Severity::warning, 0.0, LimitUnit::none,
           "Every wall of the solid is straight and runs through the full thickness.", practice},
          {RuleKind::not_flat, true, Severity::warning, 0.0, LimitUnit::none,
           "The solid is a plate: it can be cut from a sheet of its thickness.", practice},
          {RuleKind::sheet, true, Severity::error, 0.0, LimitUnit::none,
           "The drawing fits the sheet less its margin, turned by 90 degrees if need be.",
           practice},
          {RuleKind::smallest_size, true, Severity::warning, 5.0, LimitUnit::millimetres,
           "The drawing's longer side is at least this, or it was meant in a larger unit.",
           practice},
          {RuleKind::largest_size, true, Severity::warning, 6000.0, LimitUnit::millimetres,
           "The drawing's longer side is at most this, or it was meant in a smaller unit.",
           practice},
          {RuleKind::gauge, true, Severity::warning, 0.02, LimitUnit::millimetres,
           "A thickness that is no usual one to within this is none when read in the other unit, "
           "either.",
           "usual thicknesses of sheet and plate: metric, fractions of an inch, and the gauge "
           "numbers of steel sheet in the United States; from memory"},
          {RuleKind::sharp_corner, true, Severity::note, 30.0, LimitUnit::degrees,
           "Inner corners turn by no more than this without a radius.", practice},
          {RuleKind::small_arc, true, Severity::note, 0.1, LimitUnit::millimetres,
           "Arcs have at least this radius.", practice},
          {RuleKind::short_segment, true, Severity::note, 0.05, LimitUnit::millimetres,
           "Curves are at least this long.", practice},
          {RuleKind::short_contour, true, Severity::warning, 1.0, LimitUnit::thicknesses,
           "Contours are at least this long, so that a pierce has room.", practice},
          {RuleKind::many_points, true, Severity::warning, 10000.0, LimitUnit::points,
           "A contour has no more than this many points as lines and arcs within tolerance.",
           practice},
          {RuleKind::island, true, Severity::warning, 0.0, LimitUnit::none,
           "No material lies loose in a hole.", practice},
          {RuleKind::part_in_hole, true, Severity::warning, 0.0, LimitUnit::none,
           "No profile of another name lies in a hole.", practice},
          {RuleKind::drop_out, true, Severity::note, 200.0, LimitUnit::millimetres,
           "What falls out of a hole is no longer than this, so that it can't tip up into the "
           "head's way.",
           practice},
          {RuleKind::open_end, true, Severity::error, 0.0, LimitUnit::none, "Every outline closes.",
           practice},
          {RuleKind::doubled, true, Severity::error, 0.0, LimitUnit::none,
           "Nothing is drawn twice.", practice},
          {RuleKind::stray, true, Severity::warning, 0.0, LimitUnit::none,
           "Every curve is part of an outline.", practice},
          {RuleKind::crossing, true, Severity::error, 0.0, LimitUnit::none, "Outlines don't cross.",
           practice},
          {RuleKind::zero_length, true, Severity::warning, 0.0, LimitUnit::none,
           "Every curve has a length.", practice},
          {RuleKind::unread, true, Severity::error, 0.0, LimitUnit::none,
           "Every entity can be read.", practice},
          {RuleKind::drawing_unit, true, Severity::warning, 0.0, LimitUnit::none,
           "The drawing says its unit.", practice},
          {RuleKind::role, true, Severity::warning, 0.0, LimitUnit::none,
           "Layers say of outlines what they are.", practice},
          {RuleKind::left_over, true, Severity::note, 0.0, LimitUnit::none,
           "Nothing but outlines is left.", practice},
          {RuleKind::block, true, Severity::note, 0.0, LimitUnit::none,
           "No outline is the instance of a block.", practice},
          {RuleKind::hatch, true, Severity::warning, 0.0, LimitUnit::none,
           "No hatch stands for an outline.", practice},
          {RuleKind::empty, true, Severity::error, 0.0, LimitUnit::none,
           "There is something to cut.", practice},
          {RuleKind::off_plane, true, Severity::warning, 0.0, LimitUnit::none,
           "All curves lie in the plane z = 0.", practice},
          {RuleKind::uneven_scale, true, Severity::warning, 0.0, LimitUnit::none,
           "Blocks are placed with one scale.", practice},
          {RuleKind::flattened, true, Severity::note, 0.02, LimitUnit::millimetres,
           "Curves are arcs, not runs of short lines that few arcs follow within this.", practice},
          {RuleKind::contour_gone, true, Severity::error, 0.0, LimitUnit::none,
           "An allowance leaves something of every contour.", practice},
          {RuleKind::split, true, Severity::warning, 0.0, LimitUnit::none,
           "An allowance parts no contour.", practice},
          {RuleKind::merged, true, Severity::warning, 0.0, LimitUnit::none,
           "An allowance joins no contours.", practice},
          {RuleKind::unreached, true, Severity::note, 0.0, LimitUnit::none,
           "A round tool reaches all of the outline.", practice},
          {RuleKind::relief, true, Severity::warning, 0.0, LimitUnit::none,
           "Every inner corner has room for its relief.", practice},
      } {}

const Rule& RuleSet::rule(RuleKind kind) const { return rules_[static_cast<std::size_t>(kind)]; }

RuleSet RuleSet::with_limit(RuleKind kind, double limit) const {
    return with_limit(kind, limit, rule(kind).unit);
}

RuleSet RuleSet::with_limit(RuleKind kind, double limit, LimitUnit unit) const {
    require_limit(kind, limit);
    const LimitUnit own = RuleSet().rule(kind).unit;
    if (own == LimitUnit::none)
        throw GeometryError(ErrorKind::invalid_argument,
                            "rule " + std::string(word_for(kind)) + " has no limit");
    const auto is_length = [](LimitUnit candidate) {
        return candidate == LimitUnit::millimetres || candidate == LimitUnit::thicknesses;
    };
    if (unit != own && !(is_length(unit) && is_length(own)))
        throw GeometryError(ErrorKind::invalid_argument,
                            "rule " + std::string(word_for(kind)) + " has a limit in " +
                                std::string(word_for(own)) + ", not in " +
                                std::string(word_for(unit)));
    RuleSet changed = *this;
    Rule& rule = changed.rules_[static_cast<std::size_t>(kind)];
    rule.limit = limit;
    rule.unit = unit;
    return changed;
}

RuleSet RuleSet::with_severity(RuleKind kind, Severity severity) const {
    RuleSet changed = *this;
    changed.rules_[static_cast<std::size_t>(kind)].severity = severity;
    return changed;
}

RuleSet RuleSet::with_enabled(RuleKind kind, bool enabled) const {
    RuleSet changed = *this;
    changed.rules_[static_cast<std::size_t>(kind)].enabled = enabled;
    return changed;
}

const std::vector<RuleKind>& all_rule_kinds() {
    static const std::vector<RuleKind> kinds = [] {
        std::vector<RuleKind> list;
        const RuleSet defaults;
        for (const Rule& rule : defaults.rules()) list.push_back(rule.kind);
        return list;
    }();
    return kinds;
}

std::string_view word_for(RuleKind kind) {
    switch (kind) {
        case RuleKind::inner_width:
            return "inner_width";
        case RuleKind::web:
            return "web";
        case RuleKind::neck:
            return "neck";
        case RuleKind::point_touch:
            return "point_touch";
        case RuleKind::straight_cut:
            return "straight_cut";
        case RuleKind::not_flat:
            return "not_flat";
        case RuleKind::sheet:
            return "sheet";
        case RuleKind::smallest_size:
            return "smallest_size";
        case RuleKind::largest_size:
            return "largest_size";
        case RuleKind::gauge:
            return "gauge";
        case RuleKind::sharp_corner:
            return "sharp_corner";
        case RuleKind::small_arc:
            return "small_arc";
        case RuleKind::short_segment:
            return "short_segment";
        case RuleKind::short_contour:
            return "short_contour";
        case RuleKind::many_points:
            return "many_points";
        case RuleKind::island:
            return "island";
        case RuleKind::part_in_hole:
            return "part_in_hole";
        case RuleKind::drop_out:
            return "drop_out";
        case RuleKind::open_end:
            return "open_end";
        case RuleKind::doubled:
            return "doubled";
        case RuleKind::stray:
            return "stray";
        case RuleKind::crossing:
            return "crossing";
        case RuleKind::zero_length:
            return "zero_length";
        case RuleKind::unread:
            return "unread";
        case RuleKind::drawing_unit:
            return "drawing_unit";
        case RuleKind::role:
            return "role";
        case RuleKind::left_over:
            return "left_over";
        case RuleKind::block:
            return "block";
        case RuleKind::hatch:
            return "hatch";
        case RuleKind::empty:
            return "empty";
        case RuleKind::off_plane:
            return "off_plane";
        case RuleKind::uneven_scale:
            return "uneven_scale";
        case RuleKind::flattened:
            return "flattened";
        case RuleKind::contour_gone:
            return "contour_gone";
        case RuleKind::split:
            return "split";
        case RuleKind::merged:
            return "merged";
        case RuleKind::unreached:
            return "unreached";
        case RuleKind::relief:
            return "relief";
    }
    return "";
}

std::string_view word_for(Severity severity) {
    switch (severity) {
        case Severity::note:
            return "note";
        case Severity::warning:
            return "warning";
        case Severity::error:
            return "error";
    }
    return "";
}

std::string_view word_for(LimitUnit unit) {
    switch (unit) {
        case LimitUnit::thicknesses:
            return "thicknesses";
        case LimitUnit::millimetres:
            return "mm";
        case LimitUnit::degrees:
            return "degrees";
        case LimitUnit::points:
            return "points";
        case LimitUnit::none:
            return "";
    }
    return "";
}

}  // namespace planform
