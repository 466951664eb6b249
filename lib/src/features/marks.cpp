/// Edges of recesses and raised areas as marks.

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "features/finder.hpp"
#include "features/guarded.hpp"
#include "features/plate_view.hpp"
#include "flatten/curves/projected_curve.hpp"
#include "planform/error.hpp"
#include "planform/features.hpp"
#include "planform/occt.hpp"
#include "solid/shape_graph.hpp"

namespace planform {

namespace {

using features::FaceRole;
using features::FaceView;
using features::Junction;
using features::PlateView;
using features::Region;

/// Recesses and raised areas: what an engraver or a router is told by a line. Chamfers and rounded
/// edges have none: they run along the cut.
bool has_rim(FeatureKind kind) {
    switch (kind) {
        case FeatureKind::pocket:
        case FeatureKind::step:
        case FeatureKind::groove:
        case FeatureKind::boss:
        case FeatureKind::countersink:
        case FeatureKind::counterbore:
        case FeatureKind::free_form:
            return true;
        default:
            return false;
    }
}

/// Does a junction of a feature with a face outside of it bound the feature for who looks at the
/// side `up` (or at the one below)? It does towards a flat level that looks at the viewer, and
/// towards a straight wall that comes nearer to the viewer: not towards the wall of a hole in its
/// floor, nor where it is open.
bool bounds_feature(const Junction& junction, const FaceView& other, bool up) {
    switch (other.role) {
        case FaceRole::top:
            return up;
        case FaceRole::bottom:
            return !up;
        case FaceRole::flat:
            return up ? other.looks_up : !other.looks_up;
        case FaceRole::wall:
            if (junction.bend == features::Bend::convex) return false;
            return up ? other.high() > junction.high() + features::same_height
                      : other.low() < junction.low() - features::same_height;
        default:
            return false;
    }
}

/// An edge of the solid in a rim, with what the mark says of it.
struct RimEdge {
    int edge;
    const UncuttableFeature* feature;
};

/// Edges that meet in vertices, in chains: each with whether it is run backward.
using EdgeChain = std::vector<std::pair<int, bool>>;

class Chaining {
  public:
    Chaining(const solid::ShapeGraph& graph, const std::vector<int>& edges)
        : graph_(graph), left_(edges.begin(), edges.end()) {
        for (const int edge : edges)
            for (const int vertex : {ends_of(edge).start_vertex, ends_of(edge).end_vertex})
                at_[vertex].push_back(edge);
    }

    /// Open chains from their ends first, then what closes.
    std::vector<EdgeChain> run() {
        std::vector<EdgeChain> chains;
        for (const auto& [vertex, edges] : at_)
            while (edges.size() % 2 == 1 && next_at(vertex)) chains.push_back(follow(vertex));
        while (!left_.empty()) chains.push_back(follow(ends_of(*left_.begin()).start_vertex));
        return chains;
    }

  private:
    const solid::GraphEdge& ends_of(int edge) const {
        return graph_.edges[static_cast<std::size_t>(edge)];
    }
    std::optional<int> next_at(int vertex) const {
        for (const int edge : at_.at(vertex))
            if (left_.count(edge) > 0) return edge;
        return std::nullopt;
    }
    EdgeChain follow(int vertex) {
        EdgeChain chain;
        const int first = vertex;
        while (const auto edge = next_at(vertex)) {
            left_.erase(*edge);
            const bool backward = ends_of(*edge).start_vertex != vertex;
            chain.emplace_back(*edge, backward);
            vertex = backward ? ends_of(*edge).start_vertex : ends_of(*edge).end_vertex;
            if (vertex == first) break;
        }
        return chain;
    }

    const solid::ShapeGraph& graph_;
    std::set<int> left_;
    std::map<int, std::vector<int>> at_;
};

class RimMarks {
  public:
    RimMarks(const PlateView& view, const std::vector<UncuttableFeature>& found, double tolerance)
        : view_(view), found_(found), tolerance_(tolerance) {
        for (const FaceView& face : view.faces()) by_number_.emplace(face.number, face.index);
    }

    void add_side(bool up, std::vector<Mark>& marks) {
        std::map<int, const UncuttableFeature*> owner;
        for (const UncuttableFeature& feature : found_) {
            if (!has_rim(feature.kind) ||
                feature.side != (up ? FeatureSide::top : FeatureSide::bottom))
                continue;
            view_.visit_rim(region_of(feature), [&](const Junction& junction, std::size_t other) {
                if (!bounds_feature(junction, view_.face(other), up)) return;
                // An edge between two levels belongs to the deeper one.
                const auto [at, is_new] = owner.emplace(junction.edge, &feature);
                if (!is_new && feature.depth > at->second->depth) at->second = &feature;
            });
        }
        for (const UncuttableFeature& feature : found_) {
            std::vector<int> edges;
            for (const auto& [edge, of] : owner)
                if (of == &feature) edges.push_back(edge);
            for (const EdgeChain& chain : Chaining(view_.solid().graph(), edges).run())
                add_mark(chain, feature, up, marks);
        }
    }

  private:
    Region region_of(const UncuttableFeature& feature) const {
        std::vector<std::size_t> faces;
        for (const int number : feature.faces)
            for (auto [at, end] = by_number_.equal_range(number); at != end; ++at)
                faces.push_back(at->second);
        return view_.region_of(std::move(faces));
    }

    void add_mark(const EdgeChain& chain, const UncuttableFeature& feature, bool up,
                  std::vector<Mark>& marks) const {
        const solid::ShapeGraph& graph = view_.solid().graph();
        std::vector<Curve> curves;
        for (const auto& [index, backward] : chain) {
            const solid::GraphEdge& edge = graph.edges[static_cast<std::size_t>(index)];
            if (edge.degenerate()) continue;
            std::vector<Curve> piece =
                flatten::project_edge(edge, edge.first, edge.last, tolerance_);
            if (backward) {
                std::reverse(piece.begin(), piece.end());
                for (Curve& curve : piece) curve = reversed(curve);
            }
            curves.insert(curves.end(), piece.begin(), piece.end());
        }
        if (curves.empty()) return;  // upright edges alone
        const std::string name = std::string(word_for(feature.kind)) + (up ? "" : ", below");
        const double depth = feature.kind == FeatureKind::boss ? -feature.depth : feature.depth;
        if (auto contour = closed(curves)) {
            marks.emplace_back(contour->area() < 0.0 ? contour->reversed() : std::move(*contour),
                               name, depth);
        } else {
            marks.push_back(Mark::open(std::move(curves), name, depth));
        }
    }

    /// The contour that the curves are; nothing if they don't close or bound nothing.
    static std::optional<Contour> closed(const std::vector<Curve>& curves) {
        try {
            return Contour(curves);
        } catch (const GeometryError&) {
            return std::nullopt;
        }
    }

    const PlateView& view_;
    const std::vector<UncuttableFeature>& found_;
    double tolerance_;
    std::multimap<int, std::size_t> by_number_;
};

}  // namespace

std::string_view word_for(MarkedSides sides) {
    switch (sides) {
        case MarkedSides::none:
            return "none";
        case MarkedSides::up:
            return "up";
        case MarkedSides::down:
            return "down";
        case MarkedSides::both:
            return "both";
    }
    return "none";
}

std::vector<Mark> feature_marks(const Solid& solid, const Datum& datum, MarkedSides sides,
                                double tolerance) {
    std::vector<Mark> marks;
    if (!(tolerance > 0.0) || !std::isfinite(tolerance))
        throw GeometryError(ErrorKind::invalid_argument,
                            "the tolerance of marks must be a positive finite number (mm)");
    if (sides == MarkedSides::none) return marks;
    return features::guarded(solid, [&] {
        const PlateView view{solid::SectionSolid(solid::build_shape_graph(solid, datum))};
        const std::vector<UncuttableFeature> found = features::Finder(view).run();
        RimMarks rims(view, found, tolerance);
        if (sides != MarkedSides::down && view.top_is_flat()) rims.add_side(true, marks);
        if (sides != MarkedSides::up && view.bottom_is_flat()) rims.add_side(false, marks);
        return marks;
    });
}

}  // namespace planform
