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
          {RuleKind::sheet, true, Severity::error, 0.0, LimitUnit::none,
           "The drawing fits the sheet less its margin, turned by 90 degrees if need be.",
           practice},
          {RuleKind::scale, true, Severity::warning, 0.0, LimitUnit::none,
           "The drawing's size is that of a part, not of its image in another unit.", practice},
          {RuleKind::gauge, true, Severity::warning, 0.02, LimitUnit::millimetres,
           "The thickness is within this of a usual one.",
           "preferred thicknesses of flat products and sheet gauges in inch, from memory"},
          {RuleKind::sharp_corner, true, Severity::note, 30.0, LimitUnit::degrees,
           "Inner corners turn by no more than this without a radius.", practice},
          {RuleKind::small_arc, true, Severity::note, 0.1, LimitUnit::millimetres,
           "Arcs have at least this radius.", practice},
          {RuleKind::short_segment, true, Severity::note, 0.05, LimitUnit::millimetres,
           "Curves are at least this long.", practice},
          {RuleKind::short_contour, true, Severity::warning, 1.0, LimitUnit::thicknesses,
           "Contours are at least this long, so that a pierce has room.", practice},
          {RuleKind::many_points, true, Severity::warning, 10000.0, LimitUnit::count,
           "A contour has no more than this many points as lines and arcs.", practice},
          {RuleKind::island, true, Severity::warning, 0.0, LimitUnit::none,
           "No profile lies loose in a hole of another.", practice},
          {RuleKind::drop_out, true, Severity::note, 0.0, LimitUnit::none,
           "Nothing falls out of a hole that something lies in.", practice},
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
      } {}

const Rule& RuleSet::rule(RuleKind kind) const { return rules_[static_cast<std::size_t>(kind)]; }

RuleSet RuleSet::with_limit(RuleKind kind, double limit) const {
    require_limit(kind, limit);
    RuleSet changed = *this;
    changed.rules_[static_cast<std::size_t>(kind)].limit = limit;
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
        case RuleKind::sheet:
            return "sheet";
        case RuleKind::scale:
            return "scale";
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

}  // namespace planform
