#include "planform/flatten.hpp"

#include <Standard_Failure.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <functional>
#include <sstream>
#include <string>

#include "flatten/outline.hpp"
#include "flatten/shape_graph.hpp"
#include "flatten/solid_outline.hpp"
#include "planform/error.hpp"
#include "planform/occt.hpp"

namespace planform {
namespace flatten {

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

namespace {

using AddSolid = std::function<void(const Solid&, int index, Outline&)>;

void check_closed(const ShapeGraph& graph) {
    if (!graph.closed)
        throw GeometryError(ErrorKind::shell_not_closed,
                            "its shell is not closed at edge " +
                                std::to_string(graph.first_open_edge) +
                                ", so it encloses no material; close the gap in the model");
}

/// Flattens every solid and unites them, or keeps them side by side.
ProfileSet flatten_all(std::span<const Solid> solids, const Datum& datum,
                       const FlattenOptions& options, const AddSolid& add_solid) {
    check_tolerance(options.tolerance);
    std::vector<Profile> profiles;
    std::vector<std::string> notes;
    Outline together;
    for (std::size_t i = 0; i < solids.size(); ++i) {
        const bool keep = options.merge == Merge::keep;
        Outline alone;
        const std::string who = "solid \"" + solids[i].name() + "\": ";
        const auto run = [&] {
            Outline& outline = keep ? alone : together;
            const std::size_t known = outline.notes().size();
            add_solid(solids[i], static_cast<int>(i), outline);
            for (const std::string& note : solids[i].notes()) notes.push_back(who + note);
            for (std::size_t n = known; n < outline.notes().size(); ++n)
                notes.push_back(who + outline.notes()[n]);
            if (!keep) return;
            const int offset = static_cast<int>(profiles.size());
            for (const Profile& p : unite(alone, options.tolerance, solids[i].name()))
                profiles.emplace_back(p.outer(), p.holes(), p.name(),
                                      p.parent() < 0 ? -1 : p.parent() + offset);
        };
        try {
            run();
        } catch (const GeometryError& error) {
            throw GeometryError(error.kind(), who + error.what());
        } catch (const Standard_Failure& failure) {
            throw GeometryError(ErrorKind::kernel_failure,
                                who + "the geometry kernel failed (" +
                                    std::string(failure.DynamicType()->Name()) + ")");
        }
    }
    if (options.merge == Merge::unite) profiles = unite(together, options.tolerance, {});
    const std::string name = solids.size() == 1 ? solids[0].name() : std::string();
    return ProfileSet(std::move(profiles), {}, datum, options.tolerance, name, std::move(notes));
}

/// A vertex nearer to the plane than this, mm, or a face in it, makes the section ambiguous.
constexpr double in_plane = 1e-7;

/// The plane as it is cut with: where it runs through vertices (and so perhaps in a face), moved a
/// little to the side whose material counts.
Datum cutting_plane(const Solid& solid, const Datum& plane) {
    const ShapeGraph graph = build_shape_graph(shape_of(solid), plane);
    const bool touches =
        std::any_of(graph.vertices.begin(), graph.vertices.end(),
                    [](const Point3& vertex) { return std::abs(vertex.z()) <= in_plane; });
    return touches ? plane.moved(-2.0 * in_plane) : plane;
}

}  // namespace
}  // namespace flatten

ProfileSet silhouette(std::span<const Solid> solids, const Datum& datum,
                      const FlattenOptions& options) {
    const auto add = [&](const Solid& solid, int index, flatten::Outline& outline) {
        const flatten::ShapeGraph graph = flatten::build_shape_graph(shape_of(solid), datum);
        flatten::check_closed(graph);
        flatten::add_silhouette(graph, index, options.tolerance, outline);
    };
    return flatten::flatten_all(solids, datum, options, add);
}

ProfileSet section(std::span<const Solid> solids, const Datum& datum, double offset,
                   const FlattenOptions& options) {
    if (!std::isfinite(offset))
        throw GeometryError(ErrorKind::invalid_argument,
                            "offset must be a finite number of millimetres");
    const Datum plane = datum.moved(offset);
    const auto add = [&](const Solid& solid, int index, flatten::Outline& outline) {
        const flatten::ShapeGraph graph = flatten::build_shape_graph(
            shape_of(solid), flatten::cutting_plane(solid, plane));
        flatten::check_closed(graph);
        flatten::add_section(graph, index, options.tolerance, outline);
    };
    const ProfileSet result = flatten::flatten_all(solids, plane, options, add);
    if (!result.empty()) return result;
    std::ostringstream note;
    note << "the plane at offset " << offset << " mm meets none of the solids";
    std::vector<std::string> notes = result.notes();
    notes.push_back(note.str());
    return ProfileSet({}, {}, plane, options.tolerance, result.name(), std::move(notes));
}

}  // namespace planform
