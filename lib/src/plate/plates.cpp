#include <algorithm>
#include <cmath>
#include <deque>
#include <tuple>

#include "planform/error.hpp"
#include "planform/plate.hpp"
#include "plate/pieces.hpp"
#include "plate/sameness.hpp"
#include "plate/text.hpp"

namespace planform {

namespace {

using plate::Likeness;
using plate::Piece;
using plate::Sameness;

void check(const PlateOptions& options) {
    const auto refuse = [](const char* what) {
        throw GeometryError(ErrorKind::invalid_argument, what);
    };
    if (!(options.tolerance > 0.0) || !std::isfinite(options.tolerance))
        refuse("the tolerance must be a positive finite number (mm)");
    if (!(options.same_within > 0.0) || !std::isfinite(options.same_within))
        refuse("the distance within which solids are the same must be positive and finite (mm)");
    if (!(options.greatest_thickness > 0.0) || !std::isfinite(options.greatest_thickness))
        refuse("the greatest thickness must be a positive finite share of the narrowest width");
    if (!(options.greatest_rise >= 0.0) || !std::isfinite(options.greatest_rise))
        refuse("what may stand out must be a finite share of the thickness, 0 or more");
    if (!(options.least_wall_share >= 0.0) || !(options.least_wall_share <= 1.0))
        refuse("the least wall share must lie between 0 and 1");
    if (!(options.least_surface_share >= 0.0) || !(options.least_surface_share <= 1.0))
        refuse("the least surface share must lie between 0 and 1");
    if (!(options.least_volume_share > 0.0) || !(options.least_volume_share <= 1.0))
        refuse("the least volume share must lie above 0 and be at most 1");
}

std::string counted(int count, const char* one, const char* several) {
    return std::to_string(count) + " " + (count == 1 ? one : several);
}

/// Plates found so far, each with what tells it from others.
class Collection {
  public:
    Collection(std::span<const Solid> solids, const PlateOptions& options)
        : solids_(solids), options_(options) {}

    void add(plate::PieceKind kind);
    PlateList finish() &&;

  private:
    struct Entry {
        Plate plate;
        Likeness likeness;
    };
    Sameness compared(Likeness& known, Likeness& fresh, std::vector<std::string>& notes) const;
    std::string name_of(const Piece& piece) const;
    PlateInstance instance_of(const Piece& piece, bool over) const;
    static void note_copies(Plate& plate);

    std::span<const Solid> solids_;
    const PlateOptions& options_;
    std::deque<Entry> entries_;  ///< a deque: likenesses point to the plates beside them
    PlateList list_;
};

Sameness Collection::compared(Likeness& known, Likeness& fresh,
                              std::vector<std::string>& notes) const {
    try {
        return plate::compare(known, fresh, options_.same_within);
    } catch (const GeometryError& error) {
        notes.push_back("not compared with '" + known.plate->name + "': " + error.what());
        return Sameness::different;
    }
}

std::string Collection::name_of(const Piece& piece) const {
    const Solid& solid = solids_[static_cast<std::size_t>(piece.solid)];
    return piece.whole_part ? solid.part_name() : solid.name();
}

PlateInstance Collection::instance_of(const Piece& piece, bool over) const {
    return {piece.solid, piece.islands, name_of(piece), over};
}

void Collection::add(plate::PieceKind kind) {
    list_.flattened += kind.verdict.flattened;
    const Piece& first = kind.pieces.front();
    if (!kind.verdict.plate) {
        std::vector<int> solids;
        for (const Piece& piece : kind.pieces) solids.push_back(piece.solid);
        list_.others.push_back({name_of(first), std::move(solids), kind.verdict.refusal.reason,
                                kind.verdict.refusal.text});
        return;
    }
    Plate plate = std::move(*kind.verdict.plate);
    plate.name = name_of(first);
    plate.outline = plate.outline.with_name(plate.name);
    Likeness fresh{
        &plate, {solids_[static_cast<std::size_t>(first.solid)]}, kind.verdict.surface, {}, {}};
    for (const int island : first.islands)
        fresh.solids.push_back(solids_[static_cast<std::size_t>(island)]);
    for (Entry& entry : entries_) {
        const Sameness sameness = compared(entry.likeness, fresh, plate.notes);
        if (sameness == Sameness::turned_over && options_.one_sided) {
            plate.notes.push_back("the mirror image of '" + entry.plate.name +
                                  "', another part on stock with a good side");
            continue;
        }
        if (sameness == Sameness::mirrored)
            plate.notes.push_back("the mirror image of '" + entry.plate.name +
                                  "', another part: what a straight cut can't make lies on one "
                                  "side, so that turning it over makes no copy");
        if (sameness != Sameness::same && sameness != Sameness::turned_over) continue;
        // Of a plate with features the representative's outline is seen from its own better face.
        const bool over = sameness == Sameness::turned_over && plate.cut.is_straight();
        for (const Piece& piece : kind.pieces)
            entry.plate.instances.push_back(instance_of(piece, over));
        return;
    }
    for (const Piece& piece : kind.pieces) plate.instances.push_back(instance_of(piece, false));
    Entry& entry = entries_.emplace_back(Entry{std::move(plate), std::move(fresh)});
    entry.likeness.plate = &entry.plate;
}

void Collection::note_copies(Plate& plate) {
    std::sort(plate.instances.begin(), plate.instances.end(),
              [](const PlateInstance& a, const PlateInstance& b) { return a.solid < b.solid; });
    int over = 0;
    for (const PlateInstance& instance : plate.instances) {
        if (std::find(plate.names.begin(), plate.names.end(), instance.name) == plate.names.end())
            plate.names.push_back(instance.name);
        over += instance.turned_over ? 1 : 0;
    }
    if (over > 0)
        plate.notes.push_back(counted(over, "of the pieces is a mirror image",
                                      "of the pieces are "
                                      "mirror images") +
                              ": cut like the others, then turned over");
    if (const auto islands = plate.instances.front().islands.size(); islands > 0)
        plate.notes.push_back(
            counted(static_cast<int>(islands), "body of the part lies", "bodies of the part lie") +
            " loose in its holes: they are islands of the drawing and fall out, "
            "unless bridges hold them");
    if (!plate.cut.features.empty())
        plate.notes.push_back(
            counted(static_cast<int>(plate.cut.features.size()), "feature", "features") +
            " that a straight cut can't make");
    if (plate.side.is_worked_from_both_sides())
        plate.notes.emplace_back(
            "features on both sides: the plate must be turned over to make them");
    for (const std::string& note : plate.outline.notes()) plate.notes.push_back(note);
}

PlateList Collection::finish() && {
    for (Entry& entry : entries_) {
        note_copies(entry.plate);
        list_.plates.push_back(std::move(entry.plate));
    }
    const auto key = [](const Plate& plate) {
        return std::make_tuple(std::llround(plate.thickness * 1e6), std::cref(plate.name),
                               -std::llround(plate.outline.area() * 1e3),
                               plate.instances.front().solid);
    };
    std::sort(list_.plates.begin(), list_.plates.end(),
              [&](const Plate& a, const Plate& b) { return key(a) < key(b); });
    return std::move(list_);
}

}  // namespace

std::string_view word_for(NotFlat reason) {
    switch (reason) {
        case NotFlat::turned_part:
            return "turned part";
        case NotFlat::block:
            return "block";
        case NotFlat::bent_sheet:
            return "bent sheet";
        case NotFlat::wedge:
            return "wedge";
        case NotFlat::draft:
            return "draft";
        case NotFlat::stands_out:
            return "stands out of the sheet";
        case NotFlat::hollowed:
            return "hollowed";
        case NotFlat::milled:
            return "milled all over";
        case NotFlat::no_straight_walls:
            return "no straight walls";
        case NotFlat::no_flat_faces:
            return "no flat faces";
        case NotFlat::not_measured:
            return "not measured";
    }
    return "not measured";
}

std::optional<Finding> finding_of(const OtherPart& part, const RuleSet& rules) {
    const Rule& rule = rules.rule(RuleKind::not_flat);
    if (!rule.enabled) return std::nullopt;
    Finding finding;
    finding.rule = rule.kind;
    finding.severity = rule.severity;
    finding.text = "No plate (" + std::string(word_for(part.reason)) + "): " + part.text +
                   ". What is drawn is its shadow; cut it from a sheet only if that is meant.";
    return finding;
}

const std::vector<NotFlat>& all_not_flat_reasons() {
    static const std::vector<NotFlat> reasons{
        NotFlat::turned_part,   NotFlat::block,       NotFlat::bent_sheet,
        NotFlat::wedge,         NotFlat::draft,       NotFlat::stands_out,
        NotFlat::hollowed,      NotFlat::milled,      NotFlat::no_straight_walls,
        NotFlat::no_flat_faces, NotFlat::not_measured};
    return reasons;
}

PlateList plates(std::span<const Solid> solids, const PlateOptions& options) {
    check(options);
    Collection collection(solids, options);
    for (plate::PieceKind& kind : plate::pieces_of(solids, options))
        collection.add(std::move(kind));
    return std::move(collection).finish();
}

PlateList plates(const Model& model, const PlateOptions& options) {
    return plates(std::span(model.solids()), options);
}

}  // namespace planform
