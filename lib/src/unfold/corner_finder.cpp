#include "unfold/corner_finder.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace planform::unfolding {

namespace {

/// A wall beside a corner has at least the area of so many squares of the thickness: less is the
/// wall of a groove or of a step.
constexpr double least_squares = 4.0;
/// Of the body's size: an edge is straight within it.
constexpr double straight_edge_share = 1e-6;

}  // namespace

CornerFinder::CornerFinder(const SheetBody& body, const Opposites& opposites, double thickness)
    : body_(body), opposites_(opposites), thickness_(thickness) {
    for (std::size_t i = 0; i < body.face_count(); ++i)
        is_wall_.push_back(body.sheets[i].kind == SurfaceKind::plane &&
                           lies_opposite(opposites, static_cast<int>(i), thickness));
}

std::vector<Round> CornerFinder::rounds() const {
    std::vector<Round> result;
    for (std::size_t i = 0; i < body_.face_count(); ++i) {
        const int face = static_cast<int>(i);
        const SheetSurface& surface = body_.sheets[i];
        if (surface.kind != SurfaceKind::cylinder || lies_opposite(opposites_, face, thickness_))
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

/// The face that another goes on as across one of its edges; -1 if it doesn't, or is the same
/// surface.
int CornerFinder::goes_on_to(int face, int use) const {
    const int edge = body_.face(face).uses[static_cast<std::size_t>(use)].edge;
    const int beyond = body_.beyond(edge, face);
    const bool is_smooth =
        beyond >= 0 && beyond != face && !body_.edge(edge).degenerate() &&
        !is_same_surface(body_.sheet(face), body_.sheet(beyond)) &&
        body_.meeting(edge, {face, use}, body_.use_of(edge, beyond)) == Meeting::smooth;
    return is_smooth ? beyond : -1;
}

std::optional<std::pair<Corner, int>> CornerFinder::find_bound(
    const std::vector<Round>& rounds) const {
    std::set<int> taken;
    for (const auto& [face, corner] : rounds) taken.insert(face);
    const auto count = [this](int face) { return static_cast<int>(body_.face(face).uses.size()); };
    for (const auto& [face, corner] : rounds)
        for (int k = 0; k < count(face); ++k) {
            const int bound = goes_on_to(face, k);
            if (bound < 0 || bound == corner.first || bound == corner.second ||
                taken.count(bound) > 0)
                continue;
            for (int m = 0; m < count(bound); ++m) {
                const int next = goes_on_to(bound, m);
                if (next >= 0 && taken.count(next) == 0 &&
                    body_.sheet(next).kind != SurfaceKind::plane)
                    return std::pair(corner, bound);
            }
        }
    return std::nullopt;
}

std::vector<Corner> CornerFinder::sharp_edges(bool hollow) const {
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

bool CornerFinder::lie_behind(const Corner& inner, const Corner& outer) const {
    const auto is_behind = [this](int face, int other) {
        const auto& list = opposites_[static_cast<std::size_t>(face)];
        return std::any_of(list.begin(), list.end(), [&](const Opposite& opposite) {
            return opposite.face == other && is_same_thickness(opposite.distance, thickness_);
        });
    };
    return (is_behind(inner.first, outer.first) && is_behind(inner.second, outer.second)) ||
           (is_behind(inner.first, outer.second) && is_behind(inner.second, outer.first));
}

bool CornerFinder::has_walls(const Corner& corner) const {
    const double least = least_squares * thickness_ * thickness_;
    return body_.area(corner.first) >= least && body_.area(corner.second) >= least;
}

/// Bends of inside radius 0: what is sharp there is meant so. Asked for seldom.
const std::map<int, int>& CornerFinder::sharp_bends() const {
    if (!sharp_bends_) sharp_bends_ = grow_skin(body_, opposites_, thickness_).outer_of_sharp_edge;
    return *sharp_bends_;
}

bool CornerFinder::is_about_sharp_edge(int face) const {
    const auto& bends = sharp_bends();
    return std::any_of(bends.begin(), bends.end(),
                       [face](const auto& entry) { return entry.second == face; });
}

bool CornerFinder::is_straight(int edge) const {
    const Vector3 chord = body_.point(edge, 1.0) - body_.point(edge, 0.0);
    const Vector3 half = body_.point(edge, 0.5) - body_.point(edge, 0.0);
    return half.cross(chord).norm() <= straight_edge_share * body_.size * chord.norm();
}

double CornerFinder::angle_between(int first, int second) const {
    return std::acos(std::clamp(body_.sheet(first).axis.dot(body_.sheet(second).axis), -1.0, 1.0));
}

std::vector<Corner> CornerFinder::all(const std::vector<Round>& rounds) const {
    std::vector<Corner> corners = sharp_edges(true);
    for (const Corner& outer : sharp_edges(false)) corners.push_back(outer);
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

}  // namespace planform::unfolding
