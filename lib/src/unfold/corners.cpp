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
#include <set>
#include <vector>

#include "error/figures.hpp"
#include "model/kernel/own_copy.hpp"
#include "model/measure/measure.hpp"
#include "model/measure/planar_face.hpp"
#include "unfold/corner_finder.hpp"
#include "unfold/refusals.hpp"
#include "unfold/without_breaks.hpp"

namespace planform::unfolding {

namespace {

/// Of the body's size: an edge is straight within it.
constexpr double straight_share = 1e-6;
/// What rounding the corners changes of the volume is as reckoned within this share, and within
/// this share of the volume: bends with mitred ends are not quite as long inside as outside.
constexpr double reckoned_share = 0.1;
constexpr double measure_share = 1e-6;

/// What a round takes of a sharp edge whose normals differ by an angle, mm^2.
double taken_by_round(double radius, double angle) {
    return radius * radius * (std::tan(0.5 * angle) - 0.5 * angle);
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
        ShapeUpgrade_UnifySameDomain joining(model::own_copy(shape), Standard_True, Standard_True,
                                             Standard_False);
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
    TopoDS_Shape sharpened(const TopoDS_Shape& shape, const std::vector<Round>& rounds) const {
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
        bodies.Append(model::own_copy(shape));
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

bool has_corners(const SheetBody& body, const Opposites& opposites, double thickness) {
    const CornerFinder finder(body, opposites, thickness);
    return !pairs_of(finder, finder.all(finder.rounds())).empty();
}

void require_free_corners(const SheetBody& body, const Opposites& opposites, double thickness) {
    const CornerFinder finder(body, opposites, thickness);
    const auto rounds = finder.rounds();
    const auto bound = finder.find_bound(rounds);
    if (!bound) return;
    const std::vector<Pair> pairs = pairs_of(finder, finder.all(rounds));
    if (pairs.empty()) return;
    std::vector<Corner> sharp;
    for (const Pair& pair : pairs)
        if (pair.inner.edge >= 0) sharp.push_back(pair.inner);
    require_open(body, sharp);
    CornerBender(body, thickness)
        .give_up(body, bound->first,
                 "its rounds can't be taken away: " + face_words(body, {bound->second}) +
                     " goes on from one of them smoothly");
}

std::optional<BentCorners> with_bent_corners(const TopoDS_Shape& shape, const SheetBody& drawn,
                                             const Opposites& drawn_opposites, double thickness,
                                             double sharp_radius) {
    const auto has_inner_corner = [](const CornerFinder& finder) {
        const auto rounds = finder.rounds();
        return !finder.sharp_edges(true).empty() ||
               std::any_of(rounds.begin(), rounds.end(),
                           [](const auto& round) { return round.second.hollow; });
    };
    if (!has_inner_corner(CornerFinder(drawn, drawn_opposites, thickness))) return std::nullopt;
    // Walls that were joined from pieces have seams, also along the corners.
    const TopoDS_Shape joined = without_seams(shape);
    const SheetBody body(joined, &drawn);
    const Opposites opposites = find_opposites(body);
    const CornerFinder finder(body, opposites, thickness);
    const auto rounds = finder.rounds();
    if (pairs_of(finder, finder.all(rounds)).empty()) return std::nullopt;

    const CornerBender bender(body, thickness);
    const TopoDS_Shape sharp_shape = bender.sharpened(joined, rounds);
    const SheetBody sharp(sharp_shape, &body);
    const Opposites sharp_opposites = find_opposites(sharp);
    const CornerFinder sharp_finder(sharp, sharp_opposites, thickness);
    std::vector<Pair> pairs = pairs_of(sharp_finder, sharp_finder.all({}));
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
