/// Slanted, rounded and free-form faces: chamfers, countersinks, bevelled walls, rounded edges.

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <utility>

#include "features/finder.hpp"

namespace planform::features {
namespace {

/// Angles (rad) and radii (relative) nearer than this are one.
constexpr double same_angle = 1e-6, same_radius = 1e-6;
/// Apexes of cones nearer than this, mm, are one.
constexpr double same_apex = 1e-5;

bool is_surface(FaceRole role) {
    return role == FaceRole::bevel || role == FaceRole::rounding || role == FaceRole::free;
}

/// Do two neighbours belong to one feature: one chamfer along several edges, one rounding?
bool are_alike(const FaceView& a, const FaceView& b, Bend bend) {
    if (a.role != b.role) return false;
    if (a.role == FaceRole::rounding)
        return a.hollow == b.hollow &&
               std::abs(a.radius - b.radius) <= same_radius * std::max(a.radius, b.radius);
    if (a.role == FaceRole::free) return true;
    const bool same_heights =
        std::abs(a.low() - b.low()) < same_height && std::abs(a.high() - b.high()) < same_height;
    return a.looks_up == b.looks_up && std::abs(a.lean - b.lean) < same_angle &&
           (same_heights || bend == Bend::smooth);
}

}  // namespace

void Finder::group_surfaces() {
    groups_ = view_.regions(
        [&](const FaceView& face) { return is_left(face.index) && is_surface(face.role); },
        [&](const Junction& junction) {
            return are_alike(view_.face(junction.first), view_.face(junction.second),
                             junction.bend);
        });
    merge_pieces_of_cones();
    merge_patches();
    for (std::size_t i = 0; i < groups_.size(); ++i)
        for (const std::size_t face : groups_[i].faces) group_of_[face] = i;
}

/// A cone that other faces have cut into pieces is one: the turned corners of a nut.
void Finder::merge_pieces_of_cones() {
    const auto is_same_cone = [&](const Region& a, const Region& b) {
        const FaceView &first = view_.face(a.faces.front()), &second = view_.face(b.faces.front());
        return first.role == FaceRole::bevel && second.role == FaceRole::bevel &&
               first.kind == GeomAbs_Cone && second.kind == GeomAbs_Cone &&
               first.hollow == second.hollow && first.looks_up == second.looks_up &&
               std::abs(first.lean - second.lean) < same_angle &&
               (first.on_axis - second.on_axis).norm() < same_apex &&
               std::abs(a.low() - b.low()) < same_height &&
               std::abs(a.high() - b.high()) < same_height;
    };
    std::vector<Region> merged;
    for (Region& group : groups_) {
        const auto same = std::find_if(merged.begin(), merged.end(), [&](const Region& other) {
            return is_same_cone(other, group);
        });
        if (same == merged.end())
            merged.push_back(std::move(group));
        else
            same->add(group);
    }
    groups_ = std::move(merged);
}

/// Free-form patches in the corners of a rounding belong to it.
void Finder::merge_patches() {
    std::map<std::size_t, Region*> roundings;  // by face
    for (Region& group : groups_)
        if (view_.face(group.faces.front()).role == FaceRole::rounding)
            for (const std::size_t face : group.faces) roundings[face] = &group;
    const auto joins_rounding = [&](const Region& group) {
        if (view_.face(group.faces.front()).role != FaceRole::free) return false;
        bool smooth = true;
        Region* home = nullptr;
        view_.visit_rim(group, [&](const Junction& junction, std::size_t other) {
            smooth = smooth && junction.bend == Bend::smooth;
            const auto found = roundings.find(other);
            if (found != roundings.end() && group.low() > found->second->low() - same_height &&
                group.high() < found->second->high() + same_height)
                home = found->second;
        });
        if (smooth && home != nullptr) home->add(group);
        return smooth && home != nullptr;
    };
    std::vector<bool> merged;
    for (const Region& group : groups_) merged.push_back(joins_rounding(group));
    std::vector<Region> kept;
    for (std::size_t i = 0; i < groups_.size(); ++i)
        if (!merged[i]) kept.push_back(std::move(groups_[i]));
    groups_ = std::move(kept);
}

void Finder::find_slanted() {
    for (const Region& group : groups_) {
        if (!is_left(group.faces.front())) continue;
        switch (view_.face(group.faces.front()).role) {
            case FaceRole::bevel:
                add_bevel(group);
                break;
            case FaceRole::rounding:
                add_rounding(group);
                break;
            default:
                add_free(group);
        }
        take(group);
    }
}

/// A recess that narrows to a line or a tip: nothing leads on from its deep end but itself.
bool Finder::is_conical_recess(const Region& group) const {
    const FaceView& first = view_.face(group.faces.front());
    if (first.looks_up == first.looks_down) return false;
    const double end = first.looks_up ? group.low() : group.high();
    bool ends = true, bends_in = first.kind == GeomAbs_Cone && first.hollow;
    for (const std::size_t face : group.faces)
        for (const std::size_t i : view_.junctions().of(face)) {
            const Junction& junction = view_.junctions().all()[i];
            if (std::abs(junction.low() - end) > same_height ||
                std::abs(junction.high() - end) > same_height)
                continue;
            if (group.has(junction.other(face)))
                bends_in = bends_in || junction.bend == Bend::concave;
            else
                ends = false;
        }
    return ends && bends_in;
}

void Finder::add_bevel(const Region& group) {
    const FaceView& first = view_.face(group.faces.front());
    const bool reaches_top = group.high() >= view_.top() - same_height && view_.top_is_flat();
    const bool reaches_bottom =
        group.low() <= view_.bottom() + same_height && view_.bottom_is_flat();
    const FeatureSide side = first.looks_up ? FeatureSide::top : FeatureSide::bottom;
    const double height = group.high() - group.low();

    std::vector<std::pair<std::size_t, double>> wide, narrow;
    for (const std::size_t face : group.faces) {
        wide.emplace_back(face, first.looks_up ? group.high() : group.low());
        narrow.emplace_back(face, first.looks_up ? group.low() : group.high());
    }
    const std::optional<Round> mouth = common_round(wide), hole = common_round(narrow);
    const bool is_funnel = mouth && hole && mouth->radius > hole->radius;

    if (is_conical_recess(group)) {
        // The tip of a drill, alone or below the wall of its hole; a V-groove.
        Region whole = group;
        view_.visit_rim(group, [&](const Junction& junction, std::size_t other) {
            if (junction.bend == Bend::concave && view_.face(other).role == FaceRole::wall)
                whole.add(view_.region_of({other}));
        });
        UncuttableFeature feature =
            described(mouth ? FeatureKind::pocket : FeatureKind::groove, side, whole);
        feature.depth = first.looks_up ? view_.top() - group.low() : group.high() - view_.bottom();
        feature.angle = mouth ? 2.0 * first.lean : first.lean;
        if (mouth) {
            feature.place = mouth->center;
            feature.diameter = 2.0 * mouth->radius;
        }
        add(std::move(feature));
        return;
    }
    if (is_funnel && !(reaches_top && reaches_bottom)) {
        UncuttableFeature feature = described(FeatureKind::countersink, side, group);
        feature.place = mouth->center;
        feature.angle = 2.0 * first.lean;
        feature.diameter = 2.0 * mouth->radius;
        feature.hole_diameter = 2.0 * hole->radius;
        add(std::move(feature));
        return;
    }
    const bool full =
        (reaches_top && reaches_bottom) || !view_.top_is_flat() || !view_.bottom_is_flat();
    UncuttableFeature feature = described(full ? FeatureKind::bevelled_wall : FeatureKind::chamfer,
                                          full ? FeatureSide::wall : side, group);
    feature.angle = first.lean;
    feature.width = height * std::tan(first.lean);
    if (is_funnel) {
        feature.place = mouth->center;
        feature.diameter = 2.0 * mouth->radius;
        feature.hole_diameter = 2.0 * hole->radius;
    }
    add(std::move(feature));
}

void Finder::add_rounding(const Region& group) {
    const FaceView& first = view_.face(group.faces.front());
    bool up = false, down = false;
    for (const std::size_t face : group.faces) {
        up = up || view_.face(face).looks_up;
        down = down || view_.face(face).looks_down;
    }
    const FeatureSide side = up == down ? FeatureSide::wall
                             : up       ? FeatureSide::top
                                        : FeatureSide::bottom;
    bool blends = false;
    view_.visit_rim(group, [&](const Junction& junction, std::size_t) {
        blends = blends || junction.bend == Bend::smooth;
    });
    const bool opens = side == FeatureSide::top      ? group.high() >= view_.top() - same_height
                       : side == FeatureSide::bottom ? group.low() <= view_.bottom() + same_height
                                                     : false;
    const bool is_recess = first.hollow && side != FeatureSide::wall && (!blends || !opens);
    const FeatureKind kind =
        is_recess ? first.kind == GeomAbs_Sphere ? FeatureKind::pocket : FeatureKind::groove
        : blends  ? FeatureKind::rounded_edge
                  : FeatureKind::free_form;
    UncuttableFeature feature = described(kind, side, group);
    feature.radius = first.radius;
    if (is_recess)
        feature.depth =
            side == FeatureSide::top ? view_.top() - group.low() : group.high() - view_.bottom();
    if (first.kind == GeomAbs_Sphere && group.faces.size() == 1)
        feature.place = first.on_axis.head<2>();
    add(std::move(feature));
}

void Finder::add_free(const Region& group) {
    bool up = false, down = false;
    double lean = 0.0;
    for (const std::size_t index : group.faces) {
        const FaceView& face = view_.face(index);
        up = up || face.looks_up;
        down = down || face.looks_down;
        lean = std::max(lean, face.lean);
    }
    const FeatureSide side = up == down ? FeatureSide::wall
                             : up       ? FeatureSide::top
                                        : FeatureSide::bottom;
    UncuttableFeature feature = described(FeatureKind::free_form, side, group);
    feature.angle = lean;
    add(std::move(feature));
}

}  // namespace planform::features
