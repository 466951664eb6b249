/// Recesses in walls, and levels that material lies over.

#include <algorithm>
#include <set>
#include <vector>

#include "features/finder.hpp"
#include "features/mouth.hpp"
#include "solid/face_lean.hpp"

namespace planform::features {
namespace {

/// Places of a level from which a line is drawn to see what lies over it.
constexpr std::size_t most_places = 25;

}  // namespace

/// Does material lie over a level, on the side that it looks to?
Cover Finder::cover_of(std::size_t index) const {
    const FaceView& face = view_.face(index);
    const bool up = face.looks_up;
    std::vector<std::size_t> over;  // faces that look back at it: one of them comes first
    for (const FaceView& other : view_.faces()) {
        const bool faces_it = up ? other.looks_down && other.high() > face.high() + same_height
                                 : other.looks_up && other.low() < face.low() - same_height;
        if (faces_it && face.box.min().x() < other.box.max().x() &&
            face.box.min().y() < other.box.max().y() && other.box.min().x() < face.box.max().x() &&
            other.box.min().y() < face.box.max().y())
            over.push_back(other.index);
    }
    if (over.empty()) return Cover::none;
    const std::vector<solid::FaceSample> samples = solid::face_samples(view_.solid(), index);
    const std::size_t stride = std::max<std::size_t>(1, samples.size() / most_places);
    bool covered = false, open = false;
    for (std::size_t i = stride / 2; i < samples.size(); i += stride)
        (meets_any(samples[i].place, up, over) ? covered : open) = true;
    if (!covered) return Cover::none;
    return open ? Cover::some : Cover::all;
}

/// Levels with material over them, with those that face them, are recesses in a wall (or in the
/// walls of a slot that is wider below than at its mouth).
void Finder::find_covered() {
    std::set<std::size_t> covered, open;
    for (const Region& level : levels()) {
        bool any_covered = false, any_open = false;
        for (const std::size_t face : level.faces) {
            const Cover cover = cover_of(face);
            any_covered = any_covered || cover != Cover::none;
            any_open = any_open || cover != Cover::all;
        }
        if (!any_covered) continue;
        covered.insert(level.faces.begin(), level.faces.end());
        if (any_open) open.insert(level.faces.begin(), level.faces.end());
    }
    std::set<std::size_t> parts = covered;  // and the walls and blends between them
    for (const std::size_t level : covered)
        for (const std::size_t i : view_.junctions().of(level)) {
            const Junction& junction = view_.junctions().all()[i];
            const std::size_t other = junction.other(level);
            if (junction.bend != Bend::convex && is_left(other) &&
                view_.face(other).role != FaceRole::flat)
                parts.insert(other);
        }
    const auto regions =
        view_.regions([&](const FaceView& face) { return parts.contains(face.index); },
                      [](const Junction& junction) { return junction.bend != Bend::convex; });
    for (const Region& region : regions) {
        bool up = false, down = false;
        for (const std::size_t face : region.faces)
            if (open.contains(face)) (view_.face(face).looks_up ? up : down) = true;
        add_groove(region, up, down);
    }
}

/// Slanted and rounded faces that reach neither top nor bottom, and look at each other: V-shaped
/// and round grooves in walls.
void Finder::find_loose_grooves() {
    std::set<std::size_t> loose;
    for (const Region& group : groups_) {
        if (!is_left(group.faces.front()) || meets(group, FaceRole::top) ||
            meets(group, FaceRole::bottom))
            continue;
        loose.insert(group.faces.begin(), group.faces.end());
    }
    const auto regions =
        view_.regions([&](const FaceView& face) { return loose.contains(face.index); },
                      [](const Junction& junction) { return junction.bend != Bend::convex; });
    for (const Region& region : regions) {
        bool up = false, down = false, bends_in = false, is_round = false;
        for (const std::size_t index : region.faces) {
            const FaceView& face = view_.face(index);
            up = up || face.looks_up;
            down = down || face.looks_down;
            is_round = is_round || (face.role == FaceRole::rounding && face.hollow);
            for (const std::size_t i : view_.junctions().of(index)) {
                const Junction& junction = view_.junctions().all()[i];
                bends_in = bends_in ||
                           (junction.bend == Bend::concave && region.has(junction.other(index)));
            }
        }
        if (up && down && (bends_in || is_round)) add_groove(region, false, false);
    }
}

void Finder::add_groove(const Region& region, bool opens_up, bool opens_down) {
    const FeatureSide side = opens_up     ? FeatureSide::top
                             : opens_down ? FeatureSide::bottom
                                          : FeatureSide::wall;
    UncuttableFeature feature = described(FeatureKind::groove, side, region);
    feature.width = region.high() - region.low();
    feature.depth = side == FeatureSide::top      ? view_.top() - region.low()
                    : side == FeatureSide::bottom ? region.high() - view_.bottom()
                                                  : depth_into_wall(region);
    add(std::move(feature));
    take(region);
}

/// The greatest horizontal distance of a place in the recess from its mouth, the edges that bend
/// outward; its height if it has none.
double Finder::depth_into_wall(const Region& region) const {
    const auto& edges = view_.solid().graph().edges;
    const auto edge_of = [&](const Junction& junction) -> const solid::GraphEdge& {
        return edges[static_cast<std::size_t>(junction.edge)];
    };
    std::vector<EdgeDistance> rim;
    view_.visit_rim(region, [&](const Junction& junction, std::size_t) {
        if (junction.bend == Bend::convex) rim.emplace_back(edge_of(junction));
    });
    if (rim.empty()) return region.high() - region.low();
    const Mouth mouth(rim);
    double depth = 0.0;
    for (const std::size_t face : region.faces) {
        double at_sample = depth;
        solid::visit_samples(
            view_.solid(), face,
            [&](const Point3& place) {
                at_sample = mouth.deeper(depth, place.head<2>());
                return at_sample > depth;
            },
            [&](const solid::FaceSample&) { depth = at_sample; });
        for (const std::size_t i : view_.junctions().of(face)) {
            const Junction& junction = view_.junctions().all()[i];
            if (junction.bend != Bend::concave) continue;
            const solid::GraphEdge& edge = edge_of(junction);
            depth = mouth.deeper(depth, edge.point((edge.first + edge.last) / 2.0).head<2>());
        }
    }
    return depth;
}

}  // namespace planform::features
