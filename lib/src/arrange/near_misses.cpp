#include "arrange/near_misses.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <set>

#include "arrange/box_tree.hpp"
#include "arrange/clearance.hpp"
#include "arrange/corners.hpp"

namespace planform::arrange {
namespace {

class NearMisses {
  public:
    explicit NearMisses(const RecoveryInput& input) : in_(input) {}

    std::vector<int> run() {
        std::vector<GridBox> boxes;
        boxes.reserve(in_.boundary.edges.size());
        for (std::size_t i = 0; i < in_.boundary.edges.size(); ++i) {
            const ChordTag& tag = tag_of(in_.boundary.edges[i]);
            carriers_.push_back(in_.set.pieces[static_cast<std::size_t>(tag.piece)].carrier);
            reaches_.push_back(tag.tolerance / in_.grid.cell());
            boxes.push_back(box(i));
        }
        if (std::all_of(reaches_.begin(), reaches_.end(), [](double r) { return r == 0.0; }))
            return {};
        const BoxTree tree(boxes);
        tree.for_each_pair([&](std::int32_t a, std::int32_t b) {
            visit(static_cast<std::size_t>(a), static_cast<std::size_t>(b));
        });
        return {found_.begin(), found_.end()};
    }

  private:
    const ChordTag& tag_of(const BoundaryEdge& edge) const {
        const Stretch& stretch =
            in_.boundary.stretches[static_cast<std::size_t>(edge.first_stretch)];
        return in_.chords.tags[static_cast<std::size_t>(stretch.segment)];
    }

    const GridPoint& vertex(std::int32_t index) const {
        return in_.boundary.vertices[static_cast<std::size_t>(index)];
    }

    GridBox box(std::size_t i) const {
        const GridPoint& a = vertex(in_.boundary.edges[i].from);
        const GridPoint& b = vertex(in_.boundary.edges[i].to);
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

std::vector<int> find_near_misses(const RecoveryInput& input) { return NearMisses(input).run(); }

}  // namespace planform::arrange
