#include "flatten/zero_sets/plane_cut.hpp"

#include <Geom_Line.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>

#include "flatten/collect/plane_moves.hpp"
#include "flatten/curves/height_roots.hpp"
#include "flatten/kinds/surface_kind.hpp"

namespace planform::flatten {
namespace {

/// An edge that dips into the plane over less than this (mm) only touches it there.
constexpr double touch_length = 1.0;

/// Heights (mm) that differ by less than this are the same: well above the rounding of coordinates,
/// well below `in_plane`.
constexpr double level_noise = 1e-3 * in_plane;

/// A cylinder or cone that a plane touches along a line within this (mm) is not cut there.
constexpr double grazing = 2.0 * in_plane;
/// Edges of such a face leave it by the tolerance of their model: how far from the plane they still
/// touch it only.
constexpr double grazed_edge = 10.0 * in_plane;

bool is_line(const solid::GraphEdge& edge) { return edge.curve->IsKind(STANDARD_TYPE(Geom_Line)); }

}  // namespace

PlaneCut::PlaneCut(const solid::SectionSolid& solid, double level, Side side, Outline& outline)
    : solid_(solid), level_(level), side_(side), outline_(outline) {
    const solid::ShapeGraph& graph = solid.graph();
    for (const Point3& vertex : graph.vertices)
        vertex_in_plane_.push_back(std::abs(vertex.z() - level) <= in_plane);
    edge_forced_.assign(graph.edges.size(), 0);
    edge_grazed_.assign(graph.edges.size(), 0);
    face_in_plane_.assign(graph.faces.size(), 0);
    vertex_nodes_.assign(graph.vertices.size(), -1);
    mark_faces();
    mark_grazing_faces();
    for (std::size_t i = 0; i < graph.edges.size(); ++i)
        cuts_.push_back(cut_edge(static_cast<int>(i)));
}

int PlaneCut::vertex_node(int vertex) {
    int& node = vertex_nodes_[static_cast<std::size_t>(vertex)];
    if (node < 0)
        node =
            outline_.add_node(solid_.graph().vertices[static_cast<std::size_t>(vertex)].head<2>());
    return node;
}

bool PlaneCut::vertex_above(int vertex) const {
    if (vertex_in_plane(vertex)) return plane_is_above();
    return solid_.graph().vertices[static_cast<std::size_t>(vertex)].z() > level_;
}

/// By how much vertices of a plane face miss it, mm, at most `model_precision`: a plane nearer to
/// the face than that passes them on either side and can't be told from the face's own.
double PlaneCut::vertex_miss(const solid::GraphFace& face,
                             const solid::FaceSurface& surface) const {
    double miss = 0.0;
    for (const solid::EdgeUse& use : face.uses) {
        const solid::GraphEdge& edge = solid_.graph().edges[static_cast<std::size_t>(use.edge)];
        if (edge.start_vertex < 0) continue;
        const Point3& vertex = solid_.graph().vertices[static_cast<std::size_t>(edge.start_vertex)];
        miss = std::max(miss, std::abs((vertex - surface.origin()).dot(surface.z())));
    }
    return std::min(miss, model_precision);
}

/// Edges and vertices in files are less exact than planes: where a plane face lies in the plane, so
/// do its edges and their vertices.
void PlaneCut::mark_faces() {
    const solid::ShapeGraph& graph = solid_.graph();
    for (std::size_t i = 0; i < graph.faces.size(); ++i) {
        const solid::GraphFace& face = graph.faces[i];
        if (!solid_.face_range(i).meets(level_, model_precision)) continue;
        const solid::FaceSurface& surface = solid_.surface(i);
        if (!surface.is_plane()) continue;
        // How far the face's plane leaves the cutting plane over the face. Distances in space: seen
        // along the normal all ends and middles of a disc's rim may lie on its centre.
        const double slope = surface.z().head<2>().norm();
        const double reach = [&] {
            double size = 0.0;
            for (const solid::EdgeUse& use : face.uses) {
                const solid::GraphEdge& edge = graph.edges[static_cast<std::size_t>(use.edge)];
                for (const double t : {edge.first, 0.5 * (edge.first + edge.last), edge.last})
                    size = std::max(size, (edge.point(t) - surface.origin()).norm());
            }
            return size;
        }();
        const double near = std::max(in_plane, vertex_miss(face, surface));
        if (std::abs(surface.origin().z() - level_) + slope * reach > near) {
            if (slope > 1e-6) continue;
            // The origin may lie far from the face.
            const bool within =
                std::all_of(face.uses.begin(), face.uses.end(), [&](const solid::EdgeUse& use) {
                    return is_in_plane(graph.edges[static_cast<std::size_t>(use.edge)]);
                });
            if (!within) continue;
        }
        face_in_plane_[i] = 1;
        for (const solid::EdgeUse& use : face.uses) {
            edge_forced_[static_cast<std::size_t>(use.edge)] = 1;
            const solid::GraphEdge& edge = graph.edges[static_cast<std::size_t>(use.edge)];
            for (const int vertex : {edge.start_vertex, edge.end_vertex})
                if (vertex >= 0) vertex_in_plane_[static_cast<std::size_t>(vertex)] = 1;
        }
    }
}

/// Whether a strip a few nanometres deep is cut must not depend on the edge by which it is asked.
void PlaneCut::mark_grazing_faces() {
    const solid::ShapeGraph& graph = solid_.graph();
    for (std::size_t i = 0; i < graph.faces.size(); ++i) {
        if (!solid_.face_range(i).meets(level_, grazing)) continue;
        const solid::FaceSurface& surface = solid_.surface(i);
        if (!kind_of(surface).touches_along_line(surface, level_, grazing)) continue;
        for (const solid::EdgeUse& use : graph.faces[i].uses)
            edge_grazed_[static_cast<std::size_t>(use.edge)] = 1;
    }
}

EdgeCut PlaneCut::cut_edge(int index) {
    const solid::GraphEdge& edge = solid_.graph().edges[static_cast<std::size_t>(index)];
    EdgeCut cut;
    cut.starts_above = vertex_above(edge.start_vertex);
    cut.ends_above = vertex_above(edge.end_vertex);
    if (edge.degenerate()) {
        cut.lies_in_plane = vertex_in_plane(edge.start_vertex);
        return cut;
    }
    const bool touched = vertex_in_plane(edge.start_vertex) || vertex_in_plane(edge.end_vertex);
    if (!touched && !solid_.edge_range(index).meets(level_, in_plane)) return cut;
    if (edge_forced_[static_cast<std::size_t>(index)] != 0 || is_in_plane(edge)) {
        cut.lies_in_plane = true;
        return cut;
    }
    place_roots(edge, edge_grazed_[static_cast<std::size_t>(index)] != 0, cut);
    return cut;
}

bool PlaneCut::is_in_plane(const solid::GraphEdge& edge) const {
    if (!vertex_in_plane(edge.start_vertex) || !vertex_in_plane(edge.end_vertex)) return false;
    return is_line(edge) || stays_in_plane(edge, edge.first, edge.last);
}

bool PlaneCut::stays_in_plane(const solid::GraphEdge& edge, double from, double to,
                              double band) const {
    constexpr int samples = 16;
    for (int i = 0; i <= samples; ++i)
        if (std::abs(height(edge, from + (to - from) * i / samples)) > 1.001 * band) return false;
    return true;
}

/// Roots at the level that decides signs, the vertices' own signs respected.
std::vector<double> PlaneCut::symbolic_roots(const solid::GraphEdge& edge,
                                             const EdgeCut& cut) const {
    const double shifted = level_ + (plane_is_above() ? -in_plane : in_plane);
    std::vector<double> roots = height_roots(edge, shifted);
    const auto above = [&](double t) { return edge.point(t).z() > shifted; };
    if (above(edge.first) != cut.starts_above) roots.insert(roots.begin(), edge.first);
    if (above(edge.last) != cut.ends_above) roots.push_back(edge.last);
    if ((roots.size() % 2 != 0) != (cut.starts_above != cut.ends_above)) {
        // Rounding lost one at the joint of two pieces of a spline: it is where the height is
        // least.
        double nearest = edge.first, least = std::abs(edge.point(edge.first).z() - shifted);
        for (int i = 1; i <= 512; ++i) {
            const double t = edge.first + (edge.last - edge.first) * i / 512;
            const double value = std::abs(edge.point(t).z() - shifted);
            if (value < least) {
                least = value;
                nearest = t;
            }
        }
        roots.insert(std::upper_bound(roots.begin(), roots.end(), nearest), nearest);
    }
    drop_noise(edge, shifted, roots);
    return roots;
}

/// What runs along the level that decides signs crosses it by rounding alone: an edge that ends in
/// a vertex of that very height would begin another side there.
void PlaneCut::drop_noise(const solid::GraphEdge& edge, double shifted,
                          std::vector<double>& roots) {
    const auto is_noise = [&](double from, double to) {
        for (int i = 0; i <= 4; ++i)
            if (std::abs(edge.point(from + (to - from) * i / 4).z() - shifted) > level_noise)
                return false;
        return true;
    };
    for (std::size_t i = 0; i + 1 < roots.size();) {
        if (!is_noise(roots[i], roots[i + 1])) {
            ++i;
            continue;
        }
        const auto at = roots.begin() + static_cast<std::ptrdiff_t>(i);
        roots.erase(at, at + 2);
        i = i > 0 ? i - 1 : 0;
    }
}

bool PlaneCut::only_touches(const solid::GraphEdge& edge, double from, double to,
                            double band) const {
    return (edge.point(to) - edge.point(from)).norm() < touch_length &&
           stays_in_plane(edge, from, to, band);
}

/// On a line between vertices of which one is above. Where these miss the line, it may pass the
/// plane nowhere: then it does so where it is on the wrong side of its vertex.
double PlaneCut::root_on_line(const solid::GraphEdge& edge, const EdgeCut& cut) const {
    const bool starts_right = (height(edge, edge.first) > 0.0) == cut.starts_above;
    const bool ends_right = (height(edge, edge.last) > 0.0) == cut.ends_above;
    if (starts_right && ends_right) return height_root_between(edge, level_, edge.first, edge.last);
    return starts_right ? edge.last : edge.first;
}

void PlaneCut::place_roots(const solid::GraphEdge& edge, bool grazed, EdgeCut& cut) {
    const bool touched = vertex_in_plane(edge.start_vertex) || vertex_in_plane(edge.end_vertex);
    if (is_line(edge) && !touched) {
        if (cut.starts_above == cut.ends_above) return;
        add_root(edge, root_on_line(edge, cut), cut.ends_above, 0, cut);
        return;
    }
    const std::vector<double> symbolic = symbolic_roots(edge, cut);
    if (symbolic.empty()) return;
    const std::vector<double> exact = height_roots(edge, level_);
    bool above = cut.starts_above;
    for (std::size_t i = 0; i < symbolic.size(); ++i) {
        const bool rises = !above;
        above = !above;
        // The stretch next to the root that has the sign of the plane: there the true root lies.
        const bool forward = above == plane_is_above();
        const double before = i > 0 ? symbolic[i - 1] : edge.first;
        const double after = i + 1 < symbolic.size() ? symbolic[i + 1] : edge.last;
        const double from = forward ? symbolic[i] : before, to = forward ? after : symbolic[i];
        const bool at_end = forward && i + 1 == symbolic.size();
        const bool at_start = !forward && i == 0;
        const bool meets_vertex = (at_end && vertex_in_plane(edge.end_vertex)) ||
                                  (at_start && vertex_in_plane(edge.start_vertex));
        if (meets_vertex && stays_in_plane(edge, from, to)) {
            add_root(edge, at_end ? edge.last : edge.first, rises, at_end ? 1 : -1, cut);
            continue;
        }
        const bool between = i + 1 < symbolic.size();
        const bool touches =
            between && (grazed ? only_touches(edge, symbolic[i], symbolic[i + 1], grazed_edge)
                               : forward && only_touches(edge, from, to, in_plane));
        if (touches) {
            // Both ends of the touch go; the sign stays what it was.
            above = !rises;
            ++i;
            continue;
        }
        double best = symbolic[i];
        bool found = false;
        // Another root ends the stretch: what is nearer to that belongs to it.
        const bool is_shared = forward ? between : i > 0;
        const double other = forward ? after : before;
        for (const double t : exact) {
            if (t < from || t > to) continue;
            if (is_shared && std::abs(t - other) < std::abs(t - symbolic[i])) continue;
            if (!found || std::abs(t - symbolic[i]) < std::abs(best - symbolic[i])) best = t;
            found = true;
        }
        add_root(edge, best, rises, 0, cut);
    }
}

void PlaneCut::add_root(const solid::GraphEdge& edge, double at, bool rises, int at_vertex,
                        EdgeCut& cut) {
    const int node = at_vertex < 0   ? vertex_node(edge.start_vertex)
                     : at_vertex > 0 ? vertex_node(edge.end_vertex)
                                     : outline_.add_node(edge.point(at).head<2>());
    cut.roots.push_back({at, rises, node, at_vertex});
}

}  // namespace planform::flatten
