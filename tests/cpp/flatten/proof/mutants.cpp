#include "flatten/proof/mutants.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <set>
#include <sstream>

#include "flatten/collect/flatten_solids.hpp"
#include "flatten/silhouette/silhouette.hpp"
#include "model/body/solid_data.hpp"
#include "planform/error.hpp"
#include "planform/occt.hpp"

using namespace planform;
using flatten::EdgeStretch;
using flatten::Facing;
using flatten::LevelCurve;

namespace mutants {
namespace {

/// What can be spoilt in a solid.
struct Targets {
    std::vector<int> faces;                                     ///< taken as a whole
    std::vector<std::pair<int, std::size_t>> stretches, folds;  ///< by face and place
    std::vector<int> edges;                                     ///< handed to the outline
};

class Listing final : public flatten::Tampering {
  public:
    Targets targets;
    Facing facing(int face, Facing said) override {
        if (said != Facing::edge_on) targets.faces.push_back(face);
        return said;
    }
    void parts(int face, std::vector<EdgeStretch>& stretches, std::vector<LevelCurve>& folds,
               const std::function<int(int, double)>&) override {
        for (std::size_t i = 0; i < stretches.size(); ++i) targets.stretches.emplace_back(face, i);
        for (std::size_t i = 0; i < folds.size(); ++i) targets.folds.emplace_back(face, i);
    }
    int times(int edge) override {
        targets.edges.push_back(edge);
        return 1;
    }
};

struct Mutant {
    Kind kind;
    int entity;             ///< face or edge, by number
    std::size_t place = 0;  ///< of a stretch or fold in its face
};

class Spoiler final : public flatten::Tampering {
  public:
    Spoiler(const Mutant& mutant, bool watched) : mutant_(mutant), watched_(watched) {}
    bool forgets(int face) override { return is(Kind::face_forgotten, face); }
    Facing facing(int face, Facing said) override {
        if (!is(Kind::face_flipped, face)) return said;
        return said == Facing::viewer ? Facing::away : Facing::viewer;
    }
    void parts(int face, std::vector<EdgeStretch>& stretches, std::vector<LevelCurve>& folds,
               const std::function<int(int, double)>& node_at) override {
        // The engine's next way is not spoilt: an error rarely strikes twice.
        if (mutant_.entity != face || spoilt_) return;
        const auto at = static_cast<std::ptrdiff_t>(mutant_.place);
        const bool has_stretch = mutant_.place < stretches.size();
        const bool has_fold = mutant_.place < folds.size();
        spoilt_ = true;
        if (mutant_.kind == Kind::stretch_dropped && has_stretch)
            stretches.erase(stretches.begin() + at);
        else if (mutant_.kind == Kind::stretch_doubled && has_stretch)
            stretches.push_back(stretches[mutant_.place]);
        else if (mutant_.kind == Kind::fold_dropped && has_fold)
            folds.erase(folds.begin() + at);
        else if (mutant_.kind == Kind::fold_doubled && has_fold)
            folds.push_back(folds[mutant_.place]);
        else if (mutant_.kind == Kind::root_moved && has_fold)
            move_root(stretches, folds[mutant_.place], node_at);
    }
    int times(int edge) override {
        if (is(Kind::edge_dropped, edge)) return 0;
        return is(Kind::edge_doubled, edge) ? 2 : 1;
    }
    bool is_watched() const override { return watched_; }

  private:
    bool is(Kind kind, int entity) const {
        return mutant_.kind == kind && mutant_.entity == entity;
    }

    /// The root at which the fold starts goes a fifth of the stretch further along its edge.
    void move_root(std::vector<EdgeStretch>& stretches, LevelCurve& fold,
                   const std::function<int(int, double)>& node_at) {
        if (fold.start_node < 0) return;
        for (EdgeStretch& stretch : stretches)
            for (double* end : {&stretch.from, &stretch.to}) {
                if (node_at(stretch.edge, *end) != fold.start_node) continue;
                const double other = end == &stretch.from ? stretch.to : stretch.from;
                *end += 0.2 * (other - *end);
                fold.start_node = node_at(stretch.edge, *end);
                return;
            }
    }

    Mutant mutant_;
    bool watched_;
    bool spoilt_ = false;
};

struct Outcome {
    std::optional<double> area;  ///< nothing if it was refused
    double perimeter = 0.0;
    std::string refusal;
};

Outcome flattened(const Solid& solid, const Datum& datum, double tolerance, Verify verify,
                  flatten::Tampering* tampering) {
    const auto add = [&](const Solid& body, int index, flatten::Outline& outline) {
        solid::ShapeGraph graph =
            solid::build_shape_graph(shape_of(body), datum, solid::EdgeReading::on_demand);
        flatten::add_silhouette(graph, body.data().mass->area_vectors(shape_of(body).Located({})),
                                {index, tolerance, {}, verify, {}, tampering}, outline);
    };
    FlattenOptions options;
    options.tolerance = tolerance;
    options.verify = verify;
    try {
        const ProfileSet set = flatten::flatten_all({&solid, 1}, datum, options, add);
        return {set.area(), set.length(), {}};
    } catch (const GeometryError& error) {
        const std::string text = error.what();
        for (const char* law : {"law of the sum", "law of cover", "area that its boundary"})
            if (text.find(law) != std::string::npos) return {std::nullopt, 0.0, law};
        return {std::nullopt, 0.0, std::string(describe(error.kind()))};
    }
}

template <class Item>
std::vector<Item> spread(const std::vector<Item>& all, int most) {
    std::vector<Item> some;
    const std::size_t count = std::min(all.size(), static_cast<std::size_t>(most));
    for (std::size_t i = 0; i < count; ++i) some.push_back(all[i * all.size() / count]);
    return some;
}

}  // namespace

std::string name_of(Kind kind) {
    switch (kind) {
        case Kind::face_forgotten:
            return "face forgotten";
        case Kind::face_flipped:
            return "face flipped";
        case Kind::stretch_dropped:
            return "stretch dropped";
        case Kind::stretch_doubled:
            return "stretch doubled";
        case Kind::fold_dropped:
            return "fold dropped";
        case Kind::fold_doubled:
            return "fold doubled";
        case Kind::root_moved:
            return "root moved";
        case Kind::edge_dropped:
            return "edge dropped";
        case Kind::edge_doubled:
            return "edge doubled";
    }
    return {};
}

void try_mutants(const Solid& solid, const Datum& datum, double tolerance, Verify verify, int most,
                 Table& table) {
    Listing listing;
    const Outcome right = flattened(solid, datum, tolerance, verify, &listing);
    if (!right.area) return;
    std::vector<Mutant> all;
    for (const int face : spread(listing.targets.faces, most))
        for (const Kind kind : {Kind::face_forgotten, Kind::face_flipped})
            all.push_back({kind, face});
    for (const auto& [face, place] : spread(listing.targets.stretches, most))
        for (const Kind kind : {Kind::stretch_dropped, Kind::stretch_doubled})
            all.push_back({kind, face, place});
    for (const auto& [face, place] : spread(listing.targets.folds, most))
        for (const Kind kind : {Kind::fold_dropped, Kind::fold_doubled, Kind::root_moved})
            all.push_back({kind, face, place});
    for (const int edge : spread(listing.targets.edges, most))
        for (const Kind kind : {Kind::edge_dropped, Kind::edge_doubled})
            all.push_back({kind, edge});

    for (const Mutant& mutant : all) {
        Tally& tally = table[mutant.kind];
        ++tally.made;
        const auto does_harm = [&](const Outcome& outcome) {
            return std::abs(*outcome.area - *right.area) >
                   2.0 * tolerance * std::max(outcome.perimeter, right.perimeter);
        };
        Spoiler unseen(mutant, false);
        const Outcome alone = flattened(solid, datum, tolerance, Verify::quick, &unseen);
        if (alone.area && !does_harm(alone)) {
            ++tally.harmless;
            continue;
        }
        Spoiler watched(mutant, true);
        const Outcome proven = flattened(solid, datum, tolerance, verify, &watched);
        if (!proven.area)
            ++tally.caught[proven.refusal];
        else if (!does_harm(proven))
            ++tally.caught["mended"];
        else
            ++tally.missed;
    }
}

std::string text_of(const Table& table) {
    std::ostringstream text;
    for (const auto& [kind, tally] : table) {
        text << name_of(kind) << ": " << tally.made << " made, " << tally.harmless << " harmless, "
             << tally.missed << " missed";
        for (const auto& [law, count] : tally.caught) text << "; " << law << " " << count;
        text << '\n';
    }
    return text.str();
}

double caught_share(const Table& table) {
    int harmful = 0, missed = 0;
    for (const auto& [kind, tally] : table) {
        harmful += tally.made - tally.harmless;
        missed += tally.missed;
    }
    return harmful == 0 ? 1.0 : 1.0 - static_cast<double>(missed) / harmful;
}

}  // namespace mutants
