#include "planform/flatten.hpp"

#include <map>
#include <optional>
#include <set>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "flatten/collect/attempt.hpp"
#include "flatten/collect/fitted_tolerance.hpp"
#include "flatten/collect/flatten_solids.hpp"
#include "flatten/collect/plane_moves.hpp"
#include "flatten/outline_at.hpp"
#include "flatten/section/section.hpp"
#include "flatten/silhouette/silhouette.hpp"
#include "model/body/solid_data.hpp"
#include "planform/error.hpp"
#include "planform/occt.hpp"
#include "proof/surface_place.hpp"
#include "proof/two_sides.hpp"

namespace planform {
namespace {

/// What was taken, and the others that could be.
std::string note_on(At at) {
    switch (at) {
        case At::top:
            return "outline at the top (--at top); also to be had: --at bottom, through, shadow";
        case At::bottom:
            return "outline at the bottom (--at bottom); also to be had: --at top, through, shadow";
        case At::through:
            return "outline where material stands through the full thickness (--at "
                   "through); also to be had: --at top, bottom, shadow";
        case At::shadow:
            break;
    }
    return {};
}

/// With the planes of top and bottom moved into the material by `move`, mm.
ProfileSet outline_moved(std::span<const Solid> solids, const Datum& datum,
                         const FlattenOptions& options, double move) {
    const auto add = [&](const Solid& solid, int index, flatten::Outline& outline) {
        flatten::add_outline_at(solid, datum, options.at, index, options.tolerance, move, outline);
    };
    const ProfileSet set =
        options.at == At::through
            ? flatten::flatten_each(solids, datum, options, add, merge::in_first_only)
            : flatten::flatten_all(solids, datum, options, add);
    std::vector<std::string> notes{note_on(options.at)};
    if (move > 0.0) {
        std::ostringstream note;
        note << "the planes at the top and the bottom were moved into the material by " << move
             << " mm, since the model is not exact enough at a vertex in them";
        notes.push_back(note.str());
    }
    notes.insert(notes.end(), set.notes().begin(), set.notes().end());
    return ProfileSet(set.profiles(), set.marks(), datum, options.tolerance, set.name(),
                      std::move(notes), Validate::no)
        .with_proof(set.proof());
}

ProfileSet outline_at(std::span<const Solid> solids, const Datum& datum,
                      const FlattenOptions& options) {
    std::optional<ProfileSet> outline;
    const auto moved = [&](double move) {
        return flatten::attempt([&] { outline = outline_moved(solids, datum, options, move); });
    };
    const std::optional<flatten::Setback> in_place = moved(0.0);
    if (!in_place) return *outline;
    if (in_place->kind() == ErrorKind::invalid_argument) in_place->raise();
    for (const double move : flatten::plane_moves())  // each is clear of more
        if (!moved(move)) return *outline;
    in_place->raise();
}

/// Found once for all instances of a shape.
const model::AreaVectors& areas_of(const Solid& solid) {
    return solid.data().mass->area_vectors(shape_of(solid).Located({}));
}

/// The shadows of some solids, from one side and from behind.
class Shadow {
  public:
    Shadow(std::span<const Solid> solids, const FlattenOptions& options)
        : solids_(solids), options_(options) {}

    /// The union of the shadows, or each beside the others, proven but for the law of the two
    /// sides.
    ProfileSet on(const Datum& datum, Verify verify) {
        // Faces, by solid, that broke the law of cover: each is taken in another way, once.
        std::map<int, std::set<int>> doubted;
        const auto add = [&](const Solid& solid, int index, flatten::Outline& outline) {
            solid::ShapeGraph& graph = graph_on(datum, solid, index);
            flatten::check_closed(graph);
            flatten::add_silhouette(
                graph, areas_of(solid),
                {index, options_.tolerance, {}, verify, doubted[index], nullptr}, outline);
            graph.give_back(solid);
            if (options_.verify == Verify::quick) graphs_.erase(index);
        };
        while (true) {
            try {
                return flatten::flatten_all(solids_, datum, options_, add);
            } catch (const proof::PlaceNotCovered& breach) {
                const proof::SurfacePlace& place = breach.place();
                if (!doubted[place.solid].insert(place.face).second) throw;
            }
        }
    }

  private:
    struct Placed {
        solid::ShapeGraph graph;
        Datum datum;
    };

    /// Made once, and kept where it will be asked for again: from this side, or from behind.
    solid::ShapeGraph& graph_on(const Datum& datum, const Solid& solid, int index) {
        const auto known = graphs_.find(index);
        if (known == graphs_.end())
            return graphs_
                .emplace(index, Placed{solid::build_shape_graph(solid, datum,
                                                                solid::EdgeReading::on_demand),
                                       datum})
                .first->second.graph;
        Placed& placed = known->second;
        if (placed.datum.normal() != datum.normal()) placed.graph.move(placed.datum, datum);
        placed.datum = datum;
        return placed.graph;
    }

    std::span<const Solid> solids_;
    const FlattenOptions& options_;
    std::map<int, Placed> graphs_;  ///< by solid
};

}  // namespace

ProfileSet silhouette(std::span<const Solid> solids, const Datum& datum,
                      const FlattenOptions& wanted) {
    FlattenOptions options = wanted;
    options.tolerance = flatten::fitted_tolerance(solids, wanted.tolerance);
    if (options.at != At::shadow) return outline_at(solids, datum, options);
    Shadow shadow(solids, options);
    const ProfileSet front = shadow.on(datum, options.verify);
    // Bodies kept side by side lie over each other from one side and under each other from the
    // other: their areas alone are no mirror images.
    if (options.verify == Verify::quick || options.merge == Merge::keep) return front;
    Proof proof = front.proof();
    proof.add(
        "two sides", 1,
        proof::check_two_sides(front, shadow.on(proof::seen_from_behind(datum), Verify::quick)));
    return front.with_proof(std::move(proof));
}

ProfileSet silhouette(const Solid& solid, const Datum& datum, const FlattenOptions& options) {
    return silhouette(std::span(&solid, 1), datum, options);
}

}  // namespace planform
