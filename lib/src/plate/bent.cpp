#include "plate/bent.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "planform/congruence.hpp"
#include "planform/error.hpp"
#include "plate/recognise.hpp"
#include "plate/text.hpp"

namespace planform::plate {

namespace {

/// Angles of bends nearer than this are the same, rad: over a wall of 100 mm a hundredth of one.
constexpr double same_angle = 1e-4;

/// Reasons of solids that may be bent sheets after all: which one the recognition of flat plates
/// stops at depends on where the walls lie.
bool may_be_bent(NotFlat reason) {
    switch (reason) {
        case NotFlat::block:
        case NotFlat::milled:
        case NotFlat::not_measured:
            return false;
        default:
            return true;
    }
}

std::string bends_in_words(const std::vector<Bend>& bends) {
    std::size_t up = 0, rolls = 0;
    for (const Bend& bend : bends) {
        up += bend.up && bend.kind != BendKind::roll ? 1 : 0;
        rolls += bend.kind == BendKind::roll ? 1 : 0;
    }
    const std::size_t down = bends.size() - up - rolls;
    std::string words = "the blank of a bent sheet: ";
    words.append(words::counted(bends.size() - rolls, "bend", "bends"));
    words.append(", ").append(std::to_string(up)).append(" up, ");
    words.append(std::to_string(down)).append(" down");
    if (rolls > 0) words.append(", ").append(words::counted(rolls, "roll", "rolls"));
    return words;
}

/// Does every bend lie on one of the other plate that turns alike (or, `flipped`, the other way)?
bool same_bends(const std::vector<Bend>& first, const std::vector<Bend>& second,
                const Transform2& motion, bool flipped, double within) {
    if (first.size() != second.size()) return false;
    std::vector<bool> taken(second.size(), false);
    const auto lies_on = [&](const Bend& bend, const Bend& other) {
        const std::vector<Line>& one = bend.lines.empty() ? bend.limits : bend.lines;
        const std::vector<Line>& two = other.lines.empty() ? other.limits : other.lines;
        if (one.empty() || two.empty()) return one.empty() == two.empty();
        const Point2 a = motion * one.front().start, b = motion * one.back().end;
        const Point2 c = two.front().start, d = two.back().end;
        return ((a - c).norm() <= within && (b - d).norm() <= within) ||
               ((a - d).norm() <= within && (b - c).norm() <= within);
    };
    for (const Bend& bend : first) {
        bool found = false;
        for (std::size_t i = 0; i < second.size() && !found; ++i) {
            const Bend& other = second[i];
            if (taken[i] || other.kind != bend.kind || (other.up == bend.up) == flipped ||
                std::abs(other.angle - bend.angle) > same_angle ||
                std::abs(other.inside_radius - bend.inside_radius) > within ||
                !lies_on(bend, other))
                continue;
            taken[i] = found = true;
        }
        if (!found) return false;
    }
    return true;
}

}  // namespace

std::optional<Plate> bent_plate(const Solid& solid, const PlateOptions& options, Refusal& refusal) {
    if (!may_be_bent(refusal.reason)) return std::nullopt;
    UnfoldOptions unfolding;
    unfolding.tolerance = options.tolerance;
    unfolding.rule = options.bends;
    Unfolding found;
    try {
        unfolding.tolerance =
            limited_tolerance(options.tolerance, solid.bounds().diagonal().norm());
        found = try_unfold(solid, unfolding);
    } catch (const Error& error) {
        found.refusal.text = error.what();
    }
    if (!found.blank) {
        if (refusal.reason == NotFlat::bent_sheet)
            refusal.text += "; it is not unfolded (" + std::string(word_for(found.refusal.reason)) +
                            "): " + found.refusal.text;
        return std::nullopt;
    }
    Blank& blank = *found.blank;
    if (blank.thickness > options.greatest_thickness * narrowest_width(blank.outline))
        return std::nullopt;
    Plate plate{
        .name = solid.name(),
        .thickness = blank.thickness,
        .datum = blank.outline.datum(),
        .side = {blank.outline.datum(), false, false,
                 "the side of the largest wall that the part's own frame shows lies up"},
        .outline = blank.outline,
        .volume_share = std::min(blank.volume, blank.outline.area() * blank.thickness) /
                        std::max(blank.volume, blank.outline.area() * blank.thickness),
        .surface_share = 1.0,
        .wall_share = 1.0,
        .volume = blank.volume,
        .cut = {},
        .bends = std::move(blank.bends),
        .instances = {},
        .names = {},
        .notes = {},
    };
    plate.cut.top = plate.thickness;
    plate.notes.push_back(bends_in_words(plate.bends));
    return plate;
}

Sameness compare_bent(const Plate& first, const Plate& second, double same_within) {
    for (const bool mirrored : {false, true}) {
        const Turning turning = mirrored ? Turning::only : Turning::never;
        const auto motion = find_congruence(first.outline, second.outline, {same_within, turning});
        if (!motion) continue;
        // Seen from the other side a blank is mirrored and bends the other way.
        for (const bool flipped : {mirrored, !mirrored})
            if (same_bends(first.bends, second.bends, motion->motion, flipped, same_within))
                return flipped == mirrored ? Sameness::same : Sameness::mirrored;
    }
    return Sameness::different;
}

}  // namespace planform::plate
