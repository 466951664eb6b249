#include "arrange/recovery/near_misses.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <set>

#include "arrange/carriers/clearance.hpp"
#include "arrange/recovery/corners.hpp"
#include "grid/box_tree.hpp"

namespace planform::arrange {
namespace {

class NearMisses {
  public:
    explicit NearMisses(const RecoveryInput& input) : in_(input) {}

    std::vector<int> run(SeenEdges& seen) {
        SeenEdges now = edges_by_segment();
        seen.resize(now.size(), 0);
        std::vector<grid::GridBox> boxes, new_boxes;
        std::vector<std::size_t> old_edges, new_edges;
        boxes.reserve(in_.boundary.edges.size());
        for (std::size_t i = 0; i < in_.boundary.edges.size(); ++i) {
            const std::size_t segment = segment_of(in_.boundary.edges[i]);
            (seen[segment] == now[segment] ? old_edges : new_edges).push_back(i);
            const ChordTag& tag = tag_of(in_.boundary.edges[i]);
            carriers_.push_back(in_.set.pieces[static_cast<std::size_t>(tag.piece)].carrier);
            reaches_.push_back(tag.tolerance / in_.grid.cell());
            boxes.push_back(box(i));
            if (seen[segment] != now[segment]) new_boxes.push_back(boxes.back());
        }
        seen = std::move(now);
        if (std::all_of(reaches_.begin(), reaches_.end(), [](double r) { return r == 0.0; }))
            return {};
        const grid::BoxTree tree(new_boxes);
        const auto new_edge = [&](std::int32_t i) {
            return new_edges[static_cast<std::size_t>(i)];
        };
        tree.for_each_pair(
            [&](std::int32_t a, std::int32_t b) { visit(new_edge(a), new_edge(b)); });
        for (const std::size_t old : old_edges)
            tree.for_each_overlap(boxes[old], [&](std::int32_t i) { visit(old, new_edge(i)); });
        return {found_.begin(), found_.end()};
    }

  private:
    std::size_t segment_of(const BoundaryEdge& edge) const {
        const auto first = static_cast<std::size_t>(edge.first_stretch);
        return static_cast<std::size_t>(in_.boundary.stretches[first].segment);
    }

    const ChordTag& tag_of(const BoundaryEdge& edge) const {
        return in_.chords.tags[segment_of(edge)];
    }

    SeenEdges edges_by_segment() const {
        SeenEdges result(in_.chords.segments.size(), 0);
        for (const BoundaryEdge& edge : in_.boundary.edges)
            result[segment_of(edge)] += mark_of(in_.boundary, edge);
        return result;
    }

    const grid::GridPoint& vertex(std::int32_t index) const {
        return in_.boundary.vertices[static_cast<std::size_t>(index)];
    }

    grid::GridBox box(std::size_t i) const {
        const grid::GridPoint& a = vertex(in_.boundary.edges[i].from);
        const grid::GridPoint& b = vertex(in_.boundary.edges[i].to);
        const auto grow = static_cast<std::int64_t>(reaches_[i]);
        return {static_cast<std::int32_t>(std::min(a.x, b.x) - grow),
                static_cast<std::int32_t>(std::min(a.y, b.y) - grow),
                static_cast<std::int32_t>(std::max(a.x, b.x) + grow),
                static_cast<std::int32_t>(std::max(a.y, b.y) + grow)};
    }

    void visit(std::size_t a, std::size_t b) {
        const double limit = reaches_[a] + reaches_[b];
        if (limit == 0.0 || carriers_[a] == carriers_[b]) return;
        const BoundaryEdge& ea = in_.boundary.edges[a];
        const BoundaryEdge& eb = in_.boundary.edges[b];
        if (ea.from == eb.from || ea.from == eb.to || ea.to == eb.from || ea.to == eb.to) return;
        const double distance = std::min({distance_to(ea.from, eb), distance_to(ea.to, eb),
                                          distance_to(eb.from, ea), distance_to(eb.to, ea)});
        if (distance >= limit || keep_apart(stretch(ea), stretch(eb), resolution(in_.grid))) return;
        if (reaches_[a] > 0.0) found_.insert(carriers_[a]);
        if (reaches_[b] > 0.0) found_.insert(carriers_[b]);
    }

    CarrierStretch stretch(const BoundaryEdge& edge) const {
        const ChordTag& tag = tag_of(edge);
        const Piece& piece = in_.set.pieces[static_cast<std::size_t>(tag.piece)];
        return {in_.set.carriers[static_cast<std::size_t>(piece.carrier)], tag.from, tag.to,
                tag.from == piece.from || tag.to == piece.to};
    }

    double distance_to(std::int32_t point, const BoundaryEdge& edge) const {
        const Vector2 a = plain(edge.from), b = plain(edge.to), p = plain(point);
        const double along = std::clamp((p - a).dot(b - a) / (b - a).squaredNorm(), 0.0, 1.0);
        return (a + along * (b - a) - p).norm();
    }

    Vector2 plain(std::int32_t index) const {
        return {static_cast<double>(vertex(index).x), static_cast<double>(vertex(index).y)};
    }

    const RecoveryInput& in_;
    std::vector<int> carriers_;
    std::vector<double> reaches_;  // how far, in cells, the curve may be from its chord
    std::set<int> found_;
};

}  // namespace

std::vector<int> find_near_misses(const RecoveryInput& input, SeenEdges& seen) {
    return NearMisses(input).run(seen);
}

}  // namespace planform::arrange
