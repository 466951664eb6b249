#include "flatten/collect/flatten_solids.hpp"

#include <Standard_Failure.hxx>
#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "flatten/collect/named_errors.hpp"
#include "planform/boolean.hpp"
#include "planform/error.hpp"
#include "proof/shadow_cover.hpp"

namespace planform::flatten {

void check_closed(const solid::ShapeGraph& graph) {
    if (!graph.closed)
        throw GeometryError(ErrorKind::shell_not_closed,
                            "its shell is not closed at edge " +
                                std::to_string(graph.first_open_edge) +
                                ", so it encloses no material; close the gap in the model");
}

namespace {

/// The curves of one solid, in an outline of its own: so that they don't depend on the other
/// solids.
Outline outline_of(const Solid& solid, int index, double tolerance, const AddSolid& add_solid,
                   std::vector<std::string>& notes) {
    const std::string who = "solid \"" + solid.name() + "\": ";
    Outline outline;
    in_solid(solid, [&] {
        add_solid(solid, index, outline);
        outline.check_bridged_gaps(tolerance);
    });
    for (const std::string& note : solid.notes()) notes.push_back(who + note);
    for (const std::string& note : outline.notes()) notes.push_back(who + note);
    return outline;
}

/// The name of a set made of these solids.
std::string common_name(const std::vector<std::string>& names) {
    return names.size() == 1 ? names[0] : std::string();
}

/// Holds an outline against the places of the surface that it must cover.
void check_places(const Outline& outline, std::span<const Profile> profiles, double tolerance,
                  const std::vector<std::string>& names, Proof& proof) {
    try {
        const double largest = proof::check_cover(profiles, outline.places(), tolerance);
        proof.add("cover of the surface", static_cast<long long>(outline.places().size()), largest);
    } catch (const proof::PlaceNotCovered& breach) {
        const auto solid = static_cast<std::size_t>(breach.place().solid);
        throw proof::PlaceNotCovered("solid \"" + names[solid] + "\": " + breach.what(),
                                     breach.place());
    }
}

/// The union, held against its curves and the places of the surface that it must cover. The checks
/// are added to `proof`.
std::vector<Profile> unite_covering(const Outline& outline, const FlattenOptions& options,
                                    const std::vector<std::string>& names, Proof& proof) {
    const double tolerance = options.tolerance;
    Proof of_curves;
    std::vector<Profile> profiles =
        unite(outline, tolerance, names, merge::in_first, options.verify, &of_curves);
    proof.add(outline.proof());
    if (!outline.places().empty()) check_places(outline, profiles, tolerance, names, proof);
    proof.add(of_curves);
    return profiles;
}

/// The same outlines, with the notes on the solids before those of the set itself.
ProfileSet named_like(const ProfileSet& set, const Datum& datum, const FlattenOptions& options,
                      std::string name, std::vector<std::string> notes) {
    notes.insert(notes.end(), set.notes().begin(), set.notes().end());
    return ProfileSet(set.profiles(), set.marks(), datum, options.tolerance, std::move(name),
                      std::move(notes), Validate::no);
}

}  // namespace

ProfileSet flatten_all(std::span<const Solid> solids, const Datum& datum,
                       const FlattenOptions& options, const AddSolid& add_solid) {
    check_tolerance(options.tolerance);
    std::vector<std::string> notes, names;
    for (const Solid& solid : solids) names.push_back(solid.name());
    Outline together;
    std::vector<ProfileSet> apart;
    Proof proof;
    for (std::size_t i = 0; i < solids.size(); ++i) {
        const Outline alone =
            outline_of(solids[i], static_cast<int>(i), options.tolerance, add_solid, notes);
        if (options.merge == Merge::keep)
            apart.emplace_back(unite_covering(alone, options, names, proof), std::vector<Mark>(),
                               datum, options.tolerance, names[i], std::vector<std::string>(),
                               Validate::no);
        else
            together.append(alone);
    }
    const std::string name = common_name(names);
    if (options.merge == Merge::unite)
        return ProfileSet(unite_covering(together, options, names, proof), {}, datum,
                          options.tolerance, name, std::move(notes), Validate::no)
            .with_proof(std::move(proof));
    return named_like(kept_apart(apart), datum, options, name, std::move(notes))
        .with_proof(std::move(proof));
}

ProfileSet flatten_each(std::span<const Solid> solids, const Datum& datum,
                        const FlattenOptions& options, const AddSolid& add_solid,
                        const merge::Inside& inside) {
    check_tolerance(options.tolerance);
    std::vector<std::string> notes, names;
    for (const Solid& solid : solids) names.push_back(solid.name());
    std::vector<ProfileSet> each;
    Proof proof;
    for (std::size_t i = 0; i < solids.size(); ++i) {
        const Outline alone =
            outline_of(solids[i], static_cast<int>(i), options.tolerance, add_solid, notes);
        each.emplace_back(unite(alone, options.tolerance, names, inside, options.verify, &proof),
                          std::vector<Mark>(), datum, options.tolerance, names[i],
                          std::vector<std::string>(), Validate::no);
    }
    if (each.size() == 1)
        return named_like(each.front(), datum, options, names[0], std::move(notes))
            .with_proof(std::move(proof));
    const ProfileSet together = options.merge == Merge::unite ? united(each) : kept_apart(each);
    return named_like(together, datum, options, common_name(names), std::move(notes))
        .with_proof(std::move(proof));
}

}  // namespace planform::flatten
