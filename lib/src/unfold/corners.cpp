#include "unfold/corners.hpp"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <GC_MakeArcOfCircle.hxx>
#include <ShapeUpgrade_UnifySameDomain.hxx>
#include <Standard_Failure.hxx>
#include <TopAbs_ShapeEnum.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_ListOfShape.hxx>
#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <vector>

#include "error/figures.hpp"
#include "model/measure/measure.hpp"
#include "model/measure/planar_face.hpp"
#include "unfold/refusals.hpp"
#include "unfold/without_breaks.hpp"

namespace planform::unfolding {

namespace {

/// A wall beside a corner has at least the area of so many squares of the thickness: less is the
/// wall of a groove or of a step.
constexpr double least_squares = 4.0;
/// Of the body's size: an edge is straight within it.
constexpr double straight_share = 1e-6;
/// What rounding the corners changes of the volume is as reckoned within this share, and within
/// this share of the volume: bends with mitred ends are not quite as long inside as outside.
constexpr double reckoned_share = 0.1;
constexpr double measure_share = 1e-6;

/// A round between two walls, or a sharp edge.
struct Corner {
    int first, second;  ///< walls
    double radius;      ///< mm, 0: sharp
    double length;
    double angle;  ///< between the normals out of the solid
    int edge;      ///< of a sharp one
    bool hollow;   ///< inside of the bend
};

class CornerFinder {
  public:
    CornerFinder(const SheetBody& body, const Opposites& opposites, double thickness)
        : body_(body), opposites_(opposites), thickness_(thickness) {
        for (std::size_t i = 0; i < body.face_count(); ++i)
            is_wall_.push_back(body.sheets[i].kind == SurfaceKind::plane &&
                               lies_opposite(opposites, static_cast<int>(i), thickness));
    }

    /// Cylinders with no other a thickness behind or before them that go over smoothly into two
    /// walls.
    std::vector<std::pair<int, Corner>> rounds() const {
        std::vector<std::pair<int, Corner>> result;
        for (std::size_t i = 0; i < body_.face_count(); ++i) {
            const int face = static_cast<int>(i);
            const SheetSurface& surface = body_.sheets[i];
            if (surface.kind != SurfaceKind::cylinder ||
                lies_opposite(opposites_, face, thickness_))
                continue;
            std::vector<int> walls;
            double length = 0.0;
            const auto& uses = body_.face(face).uses;
            for (std::size_t k = 0; k < uses.size(); ++k) {
                const int edge = uses[k].edge;
                const int beyond = body_.beyond(edge, face);
                if (beyond < 0 || body_.edge(edge).degenerate() || !is_wall(beyond) ||
                    !is_straight(edge) ||
                    body_.meeting(edge, {face, static_cast<int>(k)}, body_.use_of(edge, beyond)) !=
                        Meeting::smooth)
                    continue;
                walls.push_back(beyond);
                length += (body_.point(edge, 1.0) - body_.point(edge, 0.0)).norm();
            }
            if (walls.size() != 2 || walls[0] == walls[1] || is_about_sharp_edge(face)) continue;
            result.push_back({face,
                              {walls[0], walls[1], surface.radius, 0.5 * length,
                               angle_between(walls[0], walls[1]), -1, surface.hollow}});
        }
        return result;
    }

    /// A face that goes on smoothly from the end of a round and is no round itself, as where edges
    /// were rounded all the way round: there is nothing that walls without the round could be
    /// prolonged to. The kernel takes seconds to find that.
    std::optional<std::pair<Corner, int>> find_bound(
        const std::vector<std::pair<int, Corner>>& rounds) const {
        std::set<int> taken;
        for (const auto& [face, corner] : rounds) taken.insert(face);
        for (const auto& [face, corner] : rounds) {
            const auto& uses = body_.face(face).uses;
            for (std::size_t k = 0; k < uses.size(); ++k) {
                const int edge = uses[k].edge;
                const int beyond = body_.beyond(edge, face);
                if (beyond < 0 || beyond == corner.first || beyond == corner.second ||
                    taken.count(beyond) > 0 || body_.edge(edge).degenerate() ||
                    is_same_surface(body_.sheet(face), body_.sheet(beyond)))
                    continue;
                if (body_.meeting(edge, {face, static_cast<int>(k)}, body_.use_of(edge, beyond)) ==
                    Meeting::smooth)
                    return std::pair(corner, beyond);
            }
        }
        return std::nullopt;
    }

    /// Edges in which two walls meet, but for those of bends of inside radius 0.
    std::vector<Corner> sharp_edges(bool hollow) const {
        std::vector<Corner> result;
        for (std::size_t e = 0; e < body_.graph.edges.size(); ++e) {
            const int edge = static_cast<int>(e);
            const auto& uses = body_.uses_of_edge[e];
            if (uses.size() != 2 || body_.edge(edge).degenerate()) continue;
            const int first = uses[0].face, second = uses[1].face;
            if (!is_wall(first) || !is_wall(second) ||
                body_.meeting(edge, uses[0], uses[1]) !=
                    (hollow ? Meeting::inward : Meeting::outward) ||
                sharp_bends().count(edge) > 0)
                continue;
            result.push_back({first, second, 0.0,
                              (body_.point(edge, 1.0) - body_.point(edge, 0.0)).norm(),
                              angle_between(first, second), edge, hollow});
        }
        return result;
    }

    /// Do the walls of one corner lie behind those of the other?
    bool lie_behind(const Corner& inner, const Corner& outer) const {
        const auto is_behind = [this](int face, int other) {
            const auto& list = opposites_[static_cast<std::size_t>(face)];
            return std::any_of(list.begin(), list.end(), [&](const Opposite& opposite) {
                return opposite.face == other && is_same_thickness(opposite.distance, thickness_);
            });
        };
        return (is_behind(inner.first, outer.first) && is_behind(inner.second, outer.second)) ||
               (is_behind(inner.first, outer.second) && is_behind(inner.second, outer.first));
    }

    bool has_walls(const Corner& corner) const {
        const double least = least_squares * thickness_ * thickness_;
        return body_.area(corner.first) >= least && body_.area(corner.second) >= least;
    }

  private:
    bool is_wall(int face) const { return is_wall_[static_cast<std::size_t>(face)]; }
    /// Bends of inside radius 0: what is sharp there is meant so. Asked for seldom.
    const std::map<int, int>& sharp_bends() const {
        if (!sharp_bends_)
            sharp_bends_ = grow_skin(body_, opposites_, thickness_).outer_of_sharp_edge;
        return *sharp_bends_;
    }
    bool is_about_sharp_edge(int face) const {
        const auto& bends = sharp_bends();
        return std::any_of(bends.begin(), bends.end(),
                           [face](const auto& entry) { return entry.second == face; });
    }
    bool is_straight(int edge) const {
        const Vector3 chord = body_.point(edge, 1.0) - body_.point(edge, 0.0);
        const Vector3 half = body_.point(edge, 0.5) - body_.point(edge, 0.0);
        return half.cross(chord).norm() <= straight_share * body_.size * chord.norm();
    }
    double angle_between(int first, int second) const {
        return std::acos(
            std::clamp(body_.sheet(first).axis.dot(body_.sheet(second).axis), -1.0, 1.0));
    }

    const SheetBody& body_;
    const Opposites& opposites_;
    double thickness_;
    std::vector<bool> is_wall_;
    mutable std::optional<std::map<int, int>> sharp_bends_;
};

/// What a round takes of a sharp edge whose normals differ by an angle, mm^2.
double taken_by_round(double radius, double angle) {
    return radius * radius * (std::tan(0.5 * angle) - 0.5 * angle);
}

/// An inner corner with the outer one behind it.
struct Pair {
    Corner inner, outer;
    double inside_radius = 0.0;
};

/// Sharp ones, inside and outside, and rounds.
std::vector<Corner> corners_of(const CornerFinder& finder,
                               const std::vector<std::pair<int, Corner>>& rounds) {
    std::vector<Corner> corners = finder.sharp_edges(true);
    for (const Corner& outer : finder.sharp_edges(false)) corners.push_back(outer);
    for (const auto& [face, corner] : rounds) corners.push_back(corner);
    return corners;
}

std::vector<Pair> pairs_of(const CornerFinder& finder, const std::vector<Corner>& corners) {
    std::vector<Pair> pairs;
    for (const Corner& inner : corners) {
        if (!inner.hollow || !finder.has_walls(inner)) continue;
        for (const Corner& outer : corners)
            if (!outer.hollow && finder.lie_behind(inner, outer)) {
                pairs.push_back({inner, outer});
                break;
            }
    }
    return pairs;
}

/// Edges that meet in a vertex: the walls beside them close round it.
void require_open(const SheetBody& body, const std::vector<Corner>& inner) {
    for (std::size_t i = 0; i < inner.size(); ++i)
        for (std::size_t k = i + 1; k < inner.size(); ++k) {
            const solid::GraphEdge& a = body.edge(inner[i].edge);
            const solid::GraphEdge& b = body.edge(inner[k].edge);
            const bool meet = a.start_vertex == b.start_vertex || a.start_vertex == b.end_vertex ||
                              a.end_vertex == b.start_vertex || a.end_vertex == b.end_vertex;
            const std::set<int> walls{inner[i].first, inner[i].second, inner[k].first,
                                      inner[k].second};
            if (!meet || walls.size() != 3) continue;
            const std::vector<int> faces(walls.begin(), walls.end());
            refuse(NotUnfolded::closed_ring,
                   face_words(body, faces) +
                       " close round a corner; cut the corner or one of its edges open to unfold "
                       "it",
                   body, faces);
        }
}

TopoDS_Shape without_seams(const TopoDS_Shape& shape) {
    try {
        ShapeUpgrade_UnifySameDomain joining(shape, Standard_True, Standard_True, Standard_False);
        joining.Build();
        for (TopExp_Explorer solid(joining.Shape(), TopAbs_SOLID); solid.More(); solid.Next())
            return solid.Current();
    } catch (const Standard_Failure&) {
        // As it is, then.
    }
    return shape;
}

class CornerBender {
  public:
    CornerBender(const SheetBody& body, double thickness) : body_(body), thickness_(thickness) {}

    /// `body`: whose faces the corner names.
    [[noreturn]] void give_up(const SheetBody& body, const Corner& corner,
                              const std::string& why) const {
        refuse(NotUnfolded::sharp_corner,
               face_words(body, {corner.first, corner.second}) +
                   " meet without a bend between them, and none can be put there (" + why +
                   "); draw the bend with its radius, outside by " +
                   words::millimetres(thickness_) + " more than inside",
               body, {corner.first, corner.second});
    }

    /// The solid with sharp edges for the rounds.
    TopoDS_Shape sharpened(const TopoDS_Shape& shape,
                           const std::vector<std::pair<int, Corner>>& rounds) const {
        if (rounds.empty()) return shape;
        std::vector<int> faces;
        for (const auto& [face, corner] : rounds) faces.push_back(face);
        const auto plain = without_faces(shape, body_, faces);
        if (!plain) give_up(body_, rounds.front().second, "its rounds can't be taken away");
        return *plain;
    }

    /// By booleans with what the rounds take off and put in: the kernel's own rounding of edges may
    /// end the process on odd corners.
    TopoDS_Shape rounded(const SheetBody& sharp, const std::vector<Pair>& pairs) const {
        require_room_between(sharp, pairs);
        TopTools_ListOfShape off, in;
        std::set<int> rounded_edges;  // One outside may have several insides: a fork.
        for (const Pair& pair : pairs) {
            if (!has_room(sharp, pair.outer, pair.inside_radius + thickness_) ||
                !has_room(sharp, pair.inner, pair.inside_radius))
                give_up(sharp, pair.inner,
                        "an inside radius of " + words::millimetres(pair.inside_radius) +
                            " has no room");
            if (rounded_edges.insert(pair.outer.edge).second)
                off.Append(filling(sharp, pair.outer, pair.inside_radius + thickness_));
            if (pair.inside_radius > 0.0) in.Append(filling(sharp, pair.inner, pair.inside_radius));
        }
        try {
            // A wide round would part the walls before the inside is filled.
            TopoDS_Shape result = sharp.shape();
            BRepAlgoAPI_Fuse fuse;
            if (!in.IsEmpty()) result = with_tools(fuse, result, in);
            BRepAlgoAPI_Cut cut;
            result = with_tools(cut, result, off);
            if (!result.IsNull()) return without_seams(result);
        } catch (const Standard_Failure&) {
            // As if it were not done.
        }
        give_up(sharp, pairs.front().inner, "the kernel fails");
    }

  private:
    /// Two rounds at one wall don't run into each other.
    void require_room_between(const SheetBody& sharp, const std::vector<Pair>& pairs) const {
        for (std::size_t i = 0; i < pairs.size(); ++i)
            for (std::size_t k = i + 1; k < pairs.size(); ++k) {
                const Corner& one = pairs[i].outer;
                const Corner& other = pairs[k].outer;
                const bool share = one.first == other.first || one.first == other.second ||
                                   one.second == other.first || one.second == other.second;
                if (one.edge == other.edge || !share) continue;
                const Vector3 along =
                    (sharp.point(one.edge, 1.0) - sharp.point(one.edge, 0.0)).normalized();
                const Vector3 way = sharp.point(other.edge, 0.0) - sharp.point(one.edge, 0.0);
                const auto taken = [this](const Pair& pair) {
                    return (pair.inside_radius + thickness_) * std::tan(0.5 * pair.outer.angle);
                };
                const Vector3 next =
                    (sharp.point(other.edge, 1.0) - sharp.point(other.edge, 0.0)).normalized();
                if (along.cross(next).norm() > straight_share) continue;
                const double apart = (way - way.dot(along) * along).norm();
                if (apart > straight_share * sharp.size &&
                    apart < (taken(pairs[i]) + taken(pairs[k])) * (1.0 - measure_share))
                    give_up(sharp, pairs[i].inner,
                            "an inside radius of " + words::millimetres(pairs[i].inside_radius) +
                                " has no room beside the next bend");
            }
    }
    /// Does a round end on both walls?
    static bool has_room(const SheetBody& sharp, const Corner& corner, double radius) {
        const double side = corner.hollow ? 1.0 : -1.0;
        const Vector3 m = sharp.sheet(corner.first).axis, n = sharp.sheet(corner.second).axis;
        const Point3 edge = sharp.point(corner.edge, 0.0);
        const double taken = radius * std::tan(0.5 * corner.angle);
        for (const int wall : {corner.first, corner.second}) {
            const Vector3 own = wall == corner.first ? m : n;
            const Vector3 away = (side * ((m + n) / (1.0 + m.dot(n)) - own)).normalized();
            double reach = 0.0;
            for (const Point3& place : sharp.places[static_cast<std::size_t>(wall)])
                reach = std::max(reach, (place - edge).dot(away));
            if (reach < taken * (1.0 - measure_share)) return false;
        }
        return true;
    }

    /// Null if it fails.
    static TopoDS_Shape with_tools(BRepAlgoAPI_BooleanOperation& operation,
                                   const TopoDS_Shape& shape, const TopTools_ListOfShape& tools) {
        if (shape.IsNull()) return shape;
        TopTools_ListOfShape bodies;
        bodies.Append(shape);
        operation.SetArguments(bodies);
        operation.SetTools(tools);
        operation.SetRunParallel(Standard_False);
        operation.Build();
        if (!operation.IsDone() || operation.HasErrors()) return {};
        TopoDS_Shape result;
        for (TopExp_Explorer solid(operation.Shape(), TopAbs_SOLID); solid.More(); solid.Next()) {
            if (!result.IsNull()) return {};  // It fell apart.
            result = solid.Current();
        }
        return result;
    }

    /// What lies between a sharp edge and a cylinder that touches both walls. With the normals m
    /// and n its axis lies (m + n) / (1 + m . n) times the radius from the edge: outside of the
    /// material in an inner corner, within in an outer one.
    static TopoDS_Shape filling(const SheetBody& sharp, const Corner& corner, double radius) {
        const double side = corner.hollow ? 1.0 : -1.0;
        const Vector3 m = sharp.sheet(corner.first).axis, n = sharp.sheet(corner.second).axis;
        const Point3 edge = sharp.point(corner.edge, 0.0);
        const Vector3 along = sharp.point(corner.edge, 1.0) - edge;
        const Point3 axis = edge + side * radius / (1.0 + m.dot(n)) * (m + n);
        const auto at = [](const Point3& place) { return gp_Pnt(place.x(), place.y(), place.z()); };
        const gp_Pnt first = at(axis - side * radius * m), second = at(axis - side * radius * n);
        const gp_Pnt middle = at(axis - side * radius * (m + n).normalized());
        BRepBuilderAPI_MakeWire wire;
        wire.Add(BRepBuilderAPI_MakeEdge(at(edge), first).Edge());
        wire.Add(BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(first, middle, second).Value()).Edge());
        wire.Add(BRepBuilderAPI_MakeEdge(second, at(edge)).Edge());
        return BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(wire.Wire(), Standard_True).Face(),
                                     gp_Vec(along.x(), along.y(), along.z()))
            .Shape();
    }

    const SheetBody& body_;
    double thickness_;
};

std::string note_of(std::size_t count, std::size_t assumed, double sharp_radius) {
    std::string note = words::counted(count, "corner has", "corners have") +
                       " no bend of one thickness and " + (count == 1 ? "is" : "are") +
                       " taken as bent, with the outsides of the walls where they are drawn";
    if (assumed > 0)
        note += "; " + words::counted(assumed, "is", "are") +
                " drawn sharp inside and given an inside radius of " +
                words::millimetres(sharp_radius) +
                ", which is assumed: say which one your tool makes";
    return note;
}

}  // namespace

std::optional<BentCorners> with_bent_corners(const TopoDS_Shape& shape, const SheetBody& drawn,
                                             const Opposites& drawn_opposites, double thickness,
                                             double sharp_radius) {
    const auto has_inner_corner = [](const CornerFinder& finder) {
        const auto rounds = finder.rounds();
        return !finder.sharp_edges(true).empty() ||
               std::any_of(rounds.begin(), rounds.end(),
                           [](const auto& round) { return round.second.hollow; });
    };
    const CornerFinder drawn_finder(drawn, drawn_opposites, thickness);
    if (!has_inner_corner(drawn_finder)) return std::nullopt;
    const auto drawn_rounds = drawn_finder.rounds();
    if (const auto bound = drawn_finder.find_bound(drawn_rounds))
        if (!pairs_of(drawn_finder, corners_of(drawn_finder, drawn_rounds)).empty())
            CornerBender(drawn, thickness)
                .give_up(drawn, bound->first,
                         "its rounds can't be taken away: " + face_words(drawn, {bound->second}) +
                             " goes on from one of them smoothly");
    // Walls that were joined from pieces have seams, also along the corners.
    const TopoDS_Shape joined = without_seams(shape);
    const SheetBody body(joined, &drawn);
    const Opposites opposites = find_opposites(body);
    const CornerFinder finder(body, opposites, thickness);
    const auto rounds = finder.rounds();
    if (pairs_of(finder, corners_of(finder, rounds)).empty()) return std::nullopt;

    const CornerBender bender(body, thickness);
    const TopoDS_Shape sharp_shape = bender.sharpened(joined, rounds);
    const SheetBody sharp(sharp_shape, &body);
    const Opposites sharp_opposites = find_opposites(sharp);
    const CornerFinder sharp_finder(sharp, sharp_opposites, thickness);
    std::vector<Pair> pairs = pairs_of(sharp_finder, corners_of(sharp_finder, {}));
    if (pairs.empty()) return std::nullopt;
    std::vector<Corner> inner;
    for (const Pair& pair : pairs) inner.push_back(pair.inner);
    require_open(sharp, inner);

    double change = 0.0, moved = 0.0;
    std::set<int> rounded_edges;
    std::size_t assumed = 0;
    const auto add = [&](double area, double length) {
        change += area * length;
        moved += std::abs(area * length);
    };
    for (const auto& [face, round] : rounds)
        add((round.hollow ? -1.0 : 1.0) * taken_by_round(round.radius, round.angle), round.length);
    for (Pair& pair : pairs) {
        const auto round_at = [&](const Corner& corner) {
            for (const auto& [face, round] : rounds) {
                const auto are_same = [&](int one, int other) {
                    return is_same_surface(body.sheet(one), sharp.sheet(other));
                };
                if (round.hollow == corner.hollow && ((are_same(round.first, corner.first) &&
                                                       are_same(round.second, corner.second)) ||
                                                      (are_same(round.first, corner.second) &&
                                                       are_same(round.second, corner.first))))
                    return round.radius;
            }
            return 0.0;
        };
        const bool is_new = rounded_edges.insert(pair.outer.edge).second;
        const double inside = round_at(pair.inner), outside = round_at(pair.outer);
        if (inside > 0.0) {
            pair.inside_radius = inside;
        } else if (outside > thickness) {
            pair.inside_radius = outside - thickness;
        } else {
            pair.inside_radius = sharp_radius;
            if (is_new) ++assumed;
        }
        add(taken_by_round(pair.inside_radius, pair.inner.angle), pair.inner.length);
        if (is_new)
            add(-taken_by_round(pair.inside_radius + thickness, pair.inner.angle),
                pair.outer.length);
    }
    BentCorners result{bender.rounded(sharp, pairs),
                       note_of(rounded_edges.size(), assumed, sharp_radius)};
    const double volume = body.volume();
    const double off = model::volume_of(result.shape) - volume - change;
    if (!(std::abs(off) <= reckoned_share * moved + measure_share * volume))
        bender.give_up(sharp, pairs.front().inner,
                       "the corner is filled otherwise than two walls fill it");
    return result;
}

}  // namespace planform::unfolding
