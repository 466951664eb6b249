#include "plate/bent.hpp"

#include <algorithm>
#include <string>
#include <vector>

#include "planform/error.hpp"
#include "plate/narrowest_width.hpp"
#include "plate/text.hpp"

namespace planform::plate {

namespace {

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

}  // namespace planform::plate
