#include "solid/cap_levels.hpp"

#include <BRepTools.hxx>
#include <BRep_Tool.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Wire.hxx>
#include <algorithm>
#include <cmath>

#include "model/kernel/points.hpp"

namespace planform::solid {
namespace {

/// A face that is thin in height may still be a low wall: flat ones look up or down by this much.
constexpr double flat_facing = 0.7;
/// Share of the largest level's size from which on a level may be a cap.
constexpr double cap_share = 0.5;
/// Chords an edge when a face's size is estimated.
constexpr int chords = 16;

/// z component of the outward unit normal in the middle of a face's parameters.
double facing(const GraphFace& face, const FaceSurface& surface) {
    const Point2 middle = (surface.low() + surface.high()) / 2.0;
    const SurfacePoint at = surface.first_order(middle);
    const Vector3 normal = at.du.cross(at.dv);
    const double size = normal.norm();
    return size > 0.0 ? face.outward * normal.z() / size : 0.0;
}

/// Heights of a face: of a plane itself where its edges begin and end, since edges of files miss
/// their faces by a little.
HeightRange heights_of(const SectionSolid& solid, std::size_t index) {
    const GraphFace& face = solid.graph().faces[index];
    const FaceSurface& surface = solid.surface(index);
    const Vector3& normal = surface.z();
    if (!surface.is_plane() || !(std::abs(normal.z()) > flat_facing))
        return solid.face_range(index);
    HeightRange range;
    for (const EdgeUse& use : face.uses) {
        const GraphEdge& edge = solid.graph().edges[static_cast<std::size_t>(use.edge)];
        if (edge.degenerate()) continue;
        for (const double share : {0.0, 0.5}) {
            const Vector3 from =
                edge.point(edge.first + share * (edge.last - edge.first)) - surface.origin();
            const double slope = from.head<2>().dot(normal.head<2>()) / normal.z();
            range.extend(surface.origin().z() - slope);
        }
    }
    return range;
}

/// Area on the datum inside the outer wire of a face, from chords: good to a few per cent.
double filled_size(const GraphFace& face, const gp_Trsf& placement) {
    const TopoDS_Wire wire = BRepTools::OuterWire(face.shape);
    if (wire.IsNull()) return 0.0;
    double twice = 0.0;
    for (TopExp_Explorer edges(wire, TopAbs_EDGE); edges.More(); edges.Next()) {
        const TopoDS_Edge& edge = TopoDS::Edge(edges.Current());
        double first = 0.0, last = 0.0;
        const Handle(Geom_Curve) curve = BRep_Tool::Curve(edge, first, last);
        if (curve.IsNull()) continue;
        const auto place = [&](int i) {
            return Point2(
                model::from_kernel(
                    curve->Value(first + (last - first) * i / chords).Transformed(placement))
                    .head<2>());
        };
        double sum = 0.0;
        for (int i = 0; i < chords; ++i) sum += cross(place(i), place(i + 1));
        twice += edge.Orientation() == TopAbs_REVERSED ? -sum : sum;
    }
    return std::abs(twice) / 2.0;
}

struct Level {
    HeightRange range;
    double size;
};

/// The levels of the faces that look one way, the outermost first.
std::vector<Level> levels_of(const SectionSolid& solid, const std::vector<FlatFace>& flats,
                             bool up) {
    std::vector<const FlatFace*> faces;
    for (const FlatFace& flat : flats)
        if (flat.looks_up == up) faces.push_back(&flat);
    std::stable_sort(faces.begin(), faces.end(), [up](const FlatFace* a, const FlatFace* b) {
        return up ? a->height() > b->height() : a->height() < b->height();
    });
    std::vector<Level> levels;
    for (const FlatFace* flat : faces) {
        const double size = filled_size(solid.graph().faces[flat->face], solid.graph().placement);
        const bool same = !levels.empty() && levels.back().range.meets(flat->range.low, 1e-6) &&
                          levels.back().range.meets(flat->range.high, 1e-6);
        if (same) {
            levels.back().size += size;
            levels.back().range.extend(flat->range);
        } else {
            levels.push_back({flat->range, size});
        }
    }
    return levels;
}

std::optional<HeightRange> cap_of(const std::vector<Level>& levels) {
    double largest = 0.0;
    for (const Level& level : levels) largest = std::max(largest, level.size);
    for (const Level& level : levels)
        if (level.size >= cap_share * largest) return level.range;
    return std::nullopt;
}

}  // namespace

std::vector<FlatFace> flat_faces(const SectionSolid& solid) {
    std::vector<FlatFace> flats;
    for (std::size_t i = 0; i < solid.graph().faces.size(); ++i) {
        const HeightRange range = heights_of(solid, i);
        if (!(range.high - range.low <= straight_within)) continue;
        const GraphFace& face = solid.graph().faces[i];
        const double up = facing(face, solid.surface(i));
        if (std::abs(up) > flat_facing) flats.push_back({i, range, up > 0.0});
    }
    return flats;
}

CapLevels cap_levels(const SectionSolid& solid, const std::vector<FlatFace>& flats) {
    const std::vector<Level> up = levels_of(solid, flats, true);
    const std::vector<Level> down = levels_of(solid, flats, false);
    CapLevels caps{cap_of(up), cap_of(down)};
    const auto encloses = [&caps] { return caps.top->low > caps.bottom->high; };
    if (!caps.top || !caps.bottom || encloses()) return caps;
    // Sizes can't decide where the larger levels have no material between them.
    caps = {up.front().range, down.front().range};
    return encloses() ? caps : CapLevels{};
}

}  // namespace planform::solid
