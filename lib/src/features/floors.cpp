/// Flat levels between bottom and top: pockets, counterbores, steps, grooves along the sheet.

#include <algorithm>
#include <cmath>
#include <utility>

#include "features/finder.hpp"

namespace planform::features {
namespace {

/// Axes and radii nearer than this, mm, are one.
constexpr double same_circle = 1e-6;

/// An edge of a floor and whether the material rises beyond it.
struct FloorEdge {
    const Junction* junction;
    std::size_t other;
    bool rises;
};

/// Sets of edges that are connected by their ends.
std::vector<std::vector<FloorEdge>> chains_of(const std::vector<FloorEdge>& edges,
                                              const solid::ShapeGraph& graph) {
    std::vector<std::vector<FloorEdge>> chains;
    std::vector<std::vector<int>> ends;  // vertices of each chain
    for (const FloorEdge& edge : edges) {
        const solid::GraphEdge& e = graph.edges[static_cast<std::size_t>(edge.junction->edge)];
        std::vector<FloorEdge> chain{edge};
        std::vector<int> vertices{e.start_vertex, e.end_vertex};
        for (std::size_t i = chains.size(); i-- > 0;) {
            const bool meets = std::any_of(ends[i].begin(), ends[i].end(), [&](int vertex) {
                return std::find(vertices.begin(), vertices.end(), vertex) != vertices.end();
            });
            if (!meets) continue;
            chain.insert(chain.end(), chains[i].begin(), chains[i].end());
            vertices.insert(vertices.end(), ends[i].begin(), ends[i].end());
            chains.erase(chains.begin() + static_cast<std::ptrdiff_t>(i));
            ends.erase(ends.begin() + static_cast<std::ptrdiff_t>(i));
        }
        chains.push_back(std::move(chain));
        ends.push_back(std::move(vertices));
    }
    return chains;
}

double diagonal(const std::vector<FloorEdge>& chain) {
    Box3 box;
    for (const FloorEdge& edge : chain) box.extend(edge.junction->box);
    return box.diagonal().norm();
}

/// Chains of edges, the outermost first.
std::vector<std::vector<FloorEdge>> loops_of(const std::vector<FloorEdge>& edges,
                                             const solid::ShapeGraph& graph) {
    auto loops = chains_of(edges, graph);
    std::stable_sort(loops.begin(), loops.end(),
                     [](const auto& a, const auto& b) { return diagonal(a) > diagonal(b); });
    return loops;
}

/// The material rises beyond an edge that bends inward, and along blends that lead up.
std::vector<FloorEdge> edges_of(const Floor& floor, const PlateView& view) {
    std::vector<FloorEdge> edges;
    view.visit_rim(floor.flat, [&](const Junction& junction, std::size_t other) {
        const FaceView& face = view.face(other);
        const bool falls = floor.looks_up ? face.low() < floor.height - same_height
                                          : face.high() > floor.height + same_height;
        const bool open = junction.bend == Bend::convex || (junction.bend == Bend::smooth && falls);
        edges.push_back({&junction, other, !open});
    });
    return edges;
}

std::vector<FloorEdge> with_rise(const std::vector<FloorEdge>& edges, bool rises) {
    std::vector<FloorEdge> result;
    std::copy_if(edges.begin(), edges.end(), std::back_inserter(result),
                 [rises](const FloorEdge& edge) { return edge.rises == rises; });
    return result;
}

std::vector<std::pair<std::size_t, double>> sides_of(const std::vector<FloorEdge>& edges,
                                                     double height) {
    std::vector<std::pair<std::size_t, double>> sides;
    for (const FloorEdge& edge : edges) sides.emplace_back(edge.other, height);
    return sides;
}

}  // namespace

/// The flat levels that are left, neighbours at one height as one.
std::vector<Region> Finder::levels() const {
    return view_.regions(
        [&](const FaceView& face) { return is_left(face.index) && face.role == FaceRole::flat; },
        [&](const Junction& junction) {
            const FaceView &a = view_.face(junction.first), &b = view_.face(junction.second);
            return a.looks_up == b.looks_up && std::abs(a.low() - b.low()) < same_height;
        });
}

void Finder::find_floors() {
    for (const Region& level : levels()) {
        Floor floor;
        floor.flat = level;
        const FaceView& first = view_.face(level.faces.front());
        floor.looks_up = first.looks_up;
        floor.height = (first.low() + first.high()) / 2.0;
        attach_groups(floor);
        add_floor(floor);
    }
}

/// Draft and blends of the walls around a floor, one after the other.
void Finder::attach_groups(Floor& floor) {
    std::vector<std::size_t> reached = floor.flat.faces;
    for (std::size_t i = 0; i < reached.size(); ++i)
        for (const std::size_t k : view_.junctions().of(reached[i])) {
            const Junction& junction = view_.junctions().all()[k];
            const auto found = group_of_.find(junction.other(reached[i]));
            if (junction.bend == Bend::convex || found == group_of_.end()) continue;
            const Region& group = groups_[found->second];
            if (!is_left(group.faces.front()) || !leads_up(group, floor)) continue;
            floor.attached.add(group);
            reached.insert(reached.end(), group.faces.begin(), group.faces.end());
            take(group);
        }
}

/// Can a group of slanted or rounded faces lie between a floor and its mouth?
bool Finder::leads_up(const Region& group, const Floor& floor) const {
    const FaceView& first = view_.face(group.faces.front());
    if (first.role == FaceRole::rounding && !first.hollow) return false;
    return floor.looks_up ? group.low() >= floor.height - same_height &&
                                group.high() <= view_.top() + same_height
                          : group.high() <= floor.height + same_height &&
                                group.low() >= view_.bottom() - same_height;
}

/// The circle in which an upright surface of revolution around a hole meets a height.
std::optional<Round> Finder::round_at(std::size_t index, double height) const {
    const FaceView& face = view_.face(index);
    if (!face.hollow || !face.is_upright()) return std::nullopt;
    const Point2 center = face.on_axis.head<2>();
    switch (face.kind) {
        case GeomAbs_Cylinder:
            return Round{center, face.radius};
        case GeomAbs_Cone:
            return Round{center, std::abs(height - face.on_axis.z()) * std::tan(face.half_angle)};
        case GeomAbs_Torus:
            return Round{center, face.ring + face.radius};
        default:
            return std::nullopt;
    }
}

/// The one circle in which all surfaces meet their heights, if it is one.
std::optional<Round> Finder::common_round(
    const std::vector<std::pair<std::size_t, double>>& sides) const {
    std::optional<Round> common;
    for (const auto& [face, height] : sides) {
        const std::optional<Round> round = round_at(face, height);
        if (!round) return std::nullopt;
        if (common && ((common->center - round->center).norm() > same_circle ||
                       std::abs(common->radius - round->radius) > same_circle))
            return std::nullopt;
        common = round;
    }
    return common;
}

void Finder::add_floor(const Floor& floor) {
    const std::vector<FloorEdge> edges = edges_of(floor, view_);
    const auto loops = loops_of(edges, view_.solid().graph());
    const std::vector<FloorEdge> outer = loops.empty() ? std::vector<FloorEdge>{} : loops.front();
    const std::vector<FloorEdge> rising = with_rise(outer, true);
    const bool enclosed = rising.size() == outer.size() && !outer.empty();

    Region recess = floor.flat;
    recess.add(floor.attached);
    if (enclosed)  // its walls are its own
        for (const FloorEdge& edge : edges)
            if (edge.rises && view_.face(edge.other).role == FaceRole::wall)
                recess.add(view_.region_of({edge.other}));
    std::optional<Round> round, hole;
    if (enclosed)
        round = common_round(sides_of(outer, floor.looks_up ? recess.high() : recess.low()));
    if (round && loops.size() == 2 && with_rise(loops[1], true).empty())
        hole = common_round(sides_of(loops[1], floor.height));
    const bool counterbored = hole && (round->center - hole->center).norm() < same_circle;

    const FeatureKind kind = counterbored ? FeatureKind::counterbore
                             : enclosed   ? FeatureKind::pocket
                             : chains_of(rising, view_.solid().graph()).size() >= 2
                                 ? FeatureKind::groove
                                 : FeatureKind::step;
    UncuttableFeature feature =
        described(kind, floor.looks_up ? FeatureSide::top : FeatureSide::bottom, recess);
    (floor.looks_up ? feature.low : feature.high) = floor.height - view_.bottom();
    feature.depth = floor.looks_up ? view_.top() - floor.height : floor.height - view_.bottom();
    if (round) {
        feature.place = round->center;
        feature.diameter = 2.0 * round->radius;
    }
    if (counterbored) feature.hole_diameter = 2.0 * hole->radius;
    for (const std::size_t face : floor.attached.faces)
        if (view_.face(face).role == FaceRole::bevel)
            feature.angle = std::max(feature.angle.value_or(0.0), view_.face(face).lean);
    add(std::move(feature));
    take(floor.flat);
}

}  // namespace planform::features
