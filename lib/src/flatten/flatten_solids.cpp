#include "flatten/flatten_solids.hpp"

#include <Standard_Failure.hxx>
#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "flatten/solid_outline.hpp"
#include "planform/error.hpp"

namespace planform::flatten {

void in_face(int number, const std::function<void()>& work) {
    const std::string face = "face " + std::to_string(number) + ": ";
    try {
        work();
    } catch (const GeometryError& error) {
        throw GeometryError(error.kind(), face + error.what());
    } catch (const Standard_Failure& failure) {
        throw GeometryError(ErrorKind::kernel_failure,
                            face + "the geometry kernel failed (" +
                                std::string(failure.DynamicType()->Name()) + ")");
    }
}

void check_closed(const ShapeGraph& graph) {
    if (!graph.closed)
        throw GeometryError(ErrorKind::shell_not_closed,
                            "its shell is not closed at edge " +
                                std::to_string(graph.first_open_edge) +
                                ", so it encloses no material; close the gap in the model");
}

ProfileSet flatten_all(std::span<const Solid> solids, const Datum& datum,
                       const FlattenOptions& options, const AddSolid& add_solid) {
    check_tolerance(options.tolerance);
    std::vector<Profile> profiles;
    std::vector<std::string> notes, names;
    for (const Solid& solid : solids) names.push_back(solid.name());
    Outline together;
    for (std::size_t i = 0; i < solids.size(); ++i) {
        const bool keep = options.merge == Merge::keep;
        Outline alone;
        const std::string who = "solid \"" + solids[i].name() + "\": ";
        Outline& outline = keep ? alone : together;
        const std::size_t known = outline.notes().size();
        try {
            add_solid(solids[i], static_cast<int>(i), outline);
        } catch (const GeometryError& error) {
            throw GeometryError(error.kind(), who + error.what());
        } catch (const Standard_Failure& failure) {
            throw GeometryError(ErrorKind::kernel_failure,
                                who + "the geometry kernel failed (" +
                                    std::string(failure.DynamicType()->Name()) + ")");
        }
        for (const std::string& note : solids[i].notes()) notes.push_back(who + note);
        for (std::size_t n = known; n < outline.notes().size(); ++n)
            notes.push_back(who + outline.notes()[n]);
        if (!keep) continue;
        const int offset = static_cast<int>(profiles.size());
        for (const Profile& p : unite(alone, options.tolerance, solids[i].name(), names))
            profiles.emplace_back(p.outer(), p.holes(), p.name(),
                                  p.parent() < 0 ? -1 : p.parent() + offset);
    }
    if (options.merge == Merge::unite) profiles = unite(together, options.tolerance, {}, names);
    const std::string name = solids.size() == 1 ? solids[0].name() : std::string();
    return ProfileSet(std::move(profiles), {}, datum, options.tolerance, name, std::move(notes));
}

}  // namespace planform::flatten
