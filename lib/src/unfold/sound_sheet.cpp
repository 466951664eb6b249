#include "unfold/sound_sheet.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "error/figures.hpp"
#include "unfold/refusals.hpp"

namespace planform::unfolding {

namespace {

/// What lies between the sides of the sheet may lie so far outside of it, as a share of the
/// thickness: rounding.
constexpr double outside_share = 0.02;
/// A break of an edge is no wider than so many thicknesses.
constexpr double widest_break = 1.5;

/// How deep a place lies below a face of the skin, through the material.
double depth_below(const SheetSurface& surface, const Point3& place) {
    const Vector3 d = place - surface.origin;
    if (surface.kind == SurfaceKind::plane) return -d.dot(surface.axis);
    const double axial = d.dot(surface.axis);
    const double radius = (d - axial * surface.axis).norm();
    const double away =
        surface.kind == SurfaceKind::cylinder
            ? radius - surface.radius
            : radius * std::cos(surface.half_angle) - axial * std::sin(surface.half_angle);
    return surface.hollow ? away : -away;
}

class Sheet {
  public:
    Sheet(const SheetBody& body, const Skin& skin) : body_(body), skin_(skin) {}

    int side(int face) const { return skin_.side[static_cast<std::size_t>(face)]; }

    bool is_within(int face, int wall) const {
        const double slack = outside_share * skin_.thickness;
        const auto& places = body_.places[static_cast<std::size_t>(face)];
        return std::all_of(places.begin(), places.end(), [&](const Point3& place) {
            const double depth = depth_below(body_.sheet(wall), place);
            return depth >= -slack && depth <= skin_.thickness + slack;
        });
    }

    /// Faces of the skin's sides that a face borders on.
    std::set<int> neighbours(int face, int number) const {
        std::set<int> result;
        for (const solid::EdgeUse& use : body_.face(face).uses) {
            const int beyond = body_.beyond(use.edge, face);
            if (beyond >= 0 && side(beyond) == number) result.insert(beyond);
        }
        return result;
    }

    bool is_edge_break(int face) const {
        if (side(face) != 0) return false;
        if (std::any_of(skin_.formed.begin(), skin_.formed.end(), [face](const Skin::Formed& it) {
                return it.face == face && it.joins_wall;
            }))
            return false;
        const std::set<int> first = neighbours(face, 1), second = neighbours(face, 2);
        if (first.empty() == second.empty()) return false;
        const std::set<int>& walls = first.empty() ? second : first;
        bool is_square = true;
        for (const solid::EdgeUse& use : body_.face(face).uses) {
            const int wall = body_.beyond(use.edge, face);
            if (wall < 0 || walls.count(wall) == 0 || body_.edge(use.edge).degenerate()) continue;
            for (const double share : {0.1, 0.5, 0.9}) {
                const double t = body_.parameter(use.edge, share);
                const double lean = body_.normal_at(body_.use_of(use.edge, face), t)
                                        .dot(body_.normal_at(body_.use_of(use.edge, wall), t));
                if (std::abs(lean) > 0.05) is_square = false;
            }
        }
        if (is_square) return false;
        if (!std::all_of(walls.begin(), walls.end(),
                         [&](int wall) { return is_within_reach(face, wall); }))
            return false;
        return ends_in_cuts(face);
    }

  private:
    /// Between the sides, and near the edge that it breaks.
    bool is_within_reach(int face, int wall) const {
        const double slack = outside_share * skin_.thickness;
        double deepest = 0.0;
        // Of a wall's break along a bend only what lies over the wall is asked.
        for (const solid::EdgeUse& use : body_.face(face).uses) {
            if (body_.beyond(use.edge, face) != wall) continue;
            for (const Point3& place : body_.places[static_cast<std::size_t>(face)])
                deepest = std::max(deepest, std::abs(depth_below(body_.sheet(wall), place)));
        }
        return deepest <= widest_break * skin_.thickness + slack;
    }

    /// It goes on to a cut, or to another break.
    bool ends_in_cuts(int face) const {
        for (const solid::EdgeUse& use : body_.face(face).uses) {
            const int beyond = body_.beyond(use.edge, face);
            if (beyond >= 0 && beyond != face && side(beyond) == 0) return true;
        }
        return false;
    }

    const SheetBody& body_;
    const Skin& skin_;
};

/// Does an edge belong to a hole of a wall: to a loop other than the longest?
bool is_in_hole(const SheetBody& body, int wall, int face) {
    // The box of the common edges against that of the wall: a hole's lies inside.
    Box3 common, whole;
    for (const Point3& place : body.places[static_cast<std::size_t>(wall)]) whole.extend(place);
    for (const solid::EdgeUse& use : body.face(wall).uses) {
        if (body.beyond(use.edge, wall) != face || body.edge(use.edge).degenerate()) continue;
        for (const double share : {0.0, 0.25, 0.5, 0.75, 1.0})
            common.extend(body.point(use.edge, share));
    }
    if (common.isEmpty()) return false;
    const Vector3 normal = body.sheet(wall).axis;
    int touching = 0;
    for (int axis = 0; axis < 3; ++axis) {
        if (std::abs(normal[axis]) > 0.9) continue;
        const double near = 1e-6 * body.size;
        if (common.min()[axis] - whole.min()[axis] < near) ++touching;
        if (whole.max()[axis] - common.max()[axis] < near) ++touching;
    }
    return touching == 0;
}

[[noreturn]] void refuse_formed(const SheetBody& body, const Skin::Formed& formed) {
    const SheetSurface& surface = body.sheet(formed.face);
    const std::string words = face_words(body, {formed.face});
    const std::string at = " at " + place_words(place_of(body, formed.face));
    if (body.sheet(formed.from).kind == SurfaceKind::plane &&
        is_in_hole(body, formed.from, formed.face))
        refuse(NotUnfolded::lip_or_louvre,
               words + at + " goes up within the wall of " + face_words(body, {formed.from}) +
                   ": a lip, louvre or bead is formed, not bent; leave it out to unfold the rest",
               body, {formed.face, formed.from});
    if (surface.kind == SurfaceKind::other)
        refuse(NotUnfolded::not_developable,
               words + at + " is curved two ways: no flat sheet bends to that without stretching",
               body, {formed.face, formed.from});
    refuse(NotUnfolded::not_one_thickness,
           words + at +
               " has no face a sheet's thickness behind it; give both sides of the bend "
               "one axis",
           body, {formed.face, formed.from});
}

/// Faces that are neither side, in connected groups.
std::vector<std::vector<int>> groups_of_rest(const SheetBody& body, const Skin& skin) {
    std::vector<std::vector<int>> groups;
    std::vector<bool> taken(body.face_count(), false);
    for (std::size_t i = 0; i < body.face_count(); ++i) {
        if (taken[i] || skin.side[i] != 0) continue;
        std::vector<int> group{static_cast<int>(i)};
        taken[i] = true;
        for (std::size_t k = 0; k < group.size(); ++k)
            for (const solid::EdgeUse& use : body.face(group[k]).uses) {
                const int next = body.beyond(use.edge, group[k]);
                if (next < 0 || taken[static_cast<std::size_t>(next)] ||
                    skin.side[static_cast<std::size_t>(next)] != 0)
                    continue;
                taken[static_cast<std::size_t>(next)] = true;
                group.push_back(next);
            }
        groups.push_back(std::move(group));
    }
    return groups;
}

void add_inner_places(const solid::FaceSurface& surface, std::vector<Point3>& places) {
    for (const double u : {0.25, 0.5, 0.75})
        for (const double v : {0.25, 0.5, 0.75}) {
            const Point2 uv = surface.low() + Vector2(u, v).cwiseProduct(surface.range());
            places.push_back(surface.first_order(uv).position);
        }
}

[[noreturn]] void refuse_group(const SheetBody& body, const Skin& skin,
                               const std::vector<int>& faces) {
    const double slack = outside_share * skin.thickness;
    const Sheet sheet(body, skin);
    std::set<int> walls;
    for (const int face : faces)
        for (const int number : {1, 2}) walls.merge(sheet.neighbours(face, number));
    bool is_above = false;
    bool curved_two_ways = false;
    for (const int face : faces) {
        const bool is_double_curved = body.sheet(face).kind == SurfaceKind::other;
        curved_two_ways = curved_two_ways || is_double_curved;
        std::vector<Point3> places = body.places[static_cast<std::size_t>(face)];
        // A dome's boundary lies in the wall.
        if (is_double_curved) add_inner_places(body.surface(face), places);
        std::set<int> beside = walls;
        if (!is_double_curved) {
            beside = sheet.neighbours(face, 1);
            beside.merge(sheet.neighbours(face, 2));
        }
        for (const int wall : beside)
            for (const Point3& place : places) {
                const double depth = depth_below(body.sheet(wall), place);
                is_above = is_above || depth < -slack ||
                           (is_double_curved && depth > skin.thickness + slack);
            }
    }
    const std::string at =
        face_words(body, faces) + " at " + place_words(place_of(body, faces.front()));
    const std::string thickness = words::millimetres(skin.thickness);
    if (is_above && curved_two_ways)
        refuse(NotUnfolded::lip_or_louvre,
               "at " + at +
                   " the sheet is formed: a lip, louvre or bead is no bend; leave it out "
                   "to unfold the rest",
               body, faces);
    refuse(NotUnfolded::not_one_thickness,
           is_above ? "it is more than its sheet of " + thickness + " where " + at +
                          (faces.size() == 1 ? " stands out" : " stand out") +
                          "; draw what is joined on as a body of its own"
                    : "it is less than its sheet of " + thickness + " where " + at +
                          (faces.size() == 1 ? " ends" : " end") + " within the thickness",
           body, faces);
}

}  // namespace

std::vector<int> edge_breaks(const SheetBody& body, const Skin& skin) {
    std::vector<int> result;
    const Sheet sheet(body, skin);
    for (std::size_t i = 0; i < body.face_count(); ++i)
        if (sheet.is_edge_break(static_cast<int>(i))) result.push_back(static_cast<int>(i));
    return result;
}

void require_nothing_formed(const SheetBody& body, const Skin& skin) {
    const Sheet sheet(body, skin);
    for (const Skin::Formed& formed : skin.formed)
        if (sheet.side(formed.face) == 0 &&
            (formed.joins_wall || !sheet.is_within(formed.face, formed.from)))
            refuse_formed(body, formed);
}

void require_full_thickness(const SheetBody& body, const Opposites& opposites, const Skin& skin) {
    std::vector<int> thin;
    for (std::size_t i = 0; i < body.face_count(); ++i) {
        if (skin.side[i] != 0) continue;
        if (std::any_of(opposites[i].begin(), opposites[i].end(), [&](const Opposite& opposite) {
                return skin.side[static_cast<std::size_t>(opposite.face)] != 0 &&
                       opposite.distance < (1.0 - outside_share) * skin.thickness;
            }))
            thin.push_back(static_cast<int>(i));
    }
    if (!thin.empty()) refuse_group(body, skin, thin);
}

void require_cuts_only(const SheetBody& body, const Skin& skin) {
    const Sheet sheet(body, skin);
    for (const std::vector<int>& group : groups_of_rest(body, skin)) {
        std::set<int> first, second;
        for (const int face : group) {
            first.merge(sheet.neighbours(face, 1));
            second.merge(sheet.neighbours(face, 2));
        }
        if (first.empty() && second.empty())
            refuse(NotUnfolded::not_one_thickness,
                   "it is hollow at " + face_words(body, group) + "; a sheet has no cavity", body,
                   group);
        if (first.empty() || second.empty()) refuse_group(body, skin, group);
        first.merge(second);
        std::vector<int> outside;
        for (const int face : group)
            if (std::none_of(first.begin(), first.end(),
                             [&](int wall) { return sheet.is_within(face, wall); }) &&
                sheet.neighbours(face, 1).empty() + sheet.neighbours(face, 2).empty() > 0)
                outside.push_back(face);
        if (!outside.empty()) refuse_group(body, skin, outside);
    }
}

}  // namespace planform::unfolding
