#include <algorithm>
#include <cmath>
#include <deque>
#include <map>
#include <tuple>

#include "planform/error.hpp"
#include "planform/occt.hpp"
#include "planform/plate.hpp"
#include "plate/recognise.hpp"
#include "plate/sameness.hpp"
#include "plate/text.hpp"

namespace planform {

namespace {

using plate::Likeness;
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
    if (!(options.least_volume_share > 0.0) || !(options.least_volume_share <= 1.0))
        refuse("the least volume share must lie above 0 and be at most 1");
}

/// The solids of each distinct shape, in the order of their first.
std::vector<std::vector<int>> by_shape(std::span<const Solid> solids) {
    std::map<const void*, std::size_t> known;
    std::vector<std::vector<int>> result;
    for (std::size_t i = 0; i < solids.size(); ++i) {
        // Instances share the kernel's own body and differ by location alone.
        const void* key = shape_of(solids[i]).TShape().get();
        const auto [at, is_new] = known.emplace(key, result.size());
        if (is_new) result.emplace_back();
        result[at->second].push_back(static_cast<int>(i));
    }
    return result;
}

std::string counted(int count, const char* one, const char* several) {
    return std::to_string(count) + " " + (count == 1 ? one : several);
}

/// Plates found so far, each with what tells it from others.
class Collection {
  public:
    Collection(std::span<const Solid> solids, const PlateOptions& options)
        : solids_(solids), options_(options) {}

    void add(plate::Verdict verdict, const std::vector<int>& instances);
    PlateList finish() &&;

  private:
    struct Entry {
        Plate plate;
        Likeness likeness;
    };
    Sameness compared(Likeness& known, Likeness& fresh, std::vector<std::string>& notes) const;
    void note_copies(Plate& plate) const;

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

void Collection::add(plate::Verdict verdict, const std::vector<int>& instances) {
    list_.flattened += verdict.flattened;
    const Solid& solid = solids_[static_cast<std::size_t>(instances.front())];
    if (!verdict.plate) {
        list_.others.push_back(
            {solid.name(), instances, verdict.refusal.reason, verdict.refusal.text});
        return;
    }
    Plate plate = std::move(*verdict.plate);
    Likeness fresh{&plate, solid, verdict.surface, {}, {}};
    for (Entry& entry : entries_) {
        const Sameness sameness = compared(entry.likeness, fresh, plate.notes);
        if (sameness == Sameness::mirrored)
            plate.notes.push_back("the mirror image of '" + entry.plate.name +
                                  "', another part: what a straight cut can't make lies on one "
                                  "side, so that turning it over makes no copy");
        if (sameness != Sameness::same && sameness != Sameness::turned_over) continue;
        // Of a plate with features the representative's outline is seen from its own better face.
        const bool over = sameness == Sameness::turned_over && plate.cut.is_straight();
        for (const int instance : instances) entry.plate.instances.push_back({instance, over});
        return;
    }
    for (const int instance : instances) plate.instances.push_back({instance, false});
    Entry& entry = entries_.emplace_back(Entry{std::move(plate), std::move(fresh)});
    entry.likeness.plate = &entry.plate;
}

void Collection::note_copies(Plate& plate) const {
    std::sort(plate.instances.begin(), plate.instances.end(),
              [](const PlateInstance& a, const PlateInstance& b) { return a.solid < b.solid; });
    int over = 0;
    for (const PlateInstance& instance : plate.instances) {
        const std::string& name = solids_[static_cast<std::size_t>(instance.solid)].name();
        if (std::find(plate.names.begin(), plate.names.end(), name) == plate.names.end())
            plate.names.push_back(name);
        over += instance.turned_over ? 1 : 0;
    }
    if (over > 0)
        plate.notes.push_back(counted(over, "of the pieces is a mirror image",
                                      "of the pieces are "
                                      "mirror images") +
                              ": cut like the others, then turned over");
    if (!plate.cut.features.empty())
        plate.notes.push_back(
            counted(static_cast<int>(plate.cut.features.size()), "feature", "features") +
            " that a straight cut can't make");
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
        case NotFlat::hollowed:
            return "hollowed";
        case NotFlat::no_flat_faces:
            return "no flat faces";
        case NotFlat::not_measured:
            return "not measured";
    }
    return "not measured";
}

const std::vector<NotFlat>& all_not_flat_reasons() {
    static const std::vector<NotFlat> reasons{
        NotFlat::turned_part, NotFlat::block,    NotFlat::bent_sheet,    NotFlat::wedge,
        NotFlat::draft,       NotFlat::hollowed, NotFlat::no_flat_faces, NotFlat::not_measured};
    return reasons;
}

PlateList plates(std::span<const Solid> solids, const PlateOptions& options) {
    check(options);
    Collection collection(solids, options);
    for (const std::vector<int>& instances : by_shape(solids)) {
        const Solid& solid = solids[static_cast<std::size_t>(instances.front())];
        collection.add(plate::recognise(solid, options), instances);
    }
    return std::move(collection).finish();
}

PlateList plates(const Model& model, const PlateOptions& options) {
    return plates(std::span(model.solids()), options);
}

}  // namespace planform
