/// Polygons that overlap by a trace, moved apart.

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "grid/box_grid.hpp"
#include "grid/box_tree.hpp"
#include "layout/ring.hpp"
#include "planform/layout.hpp"

namespace planform {
namespace {

using layout::box_of;

constexpr int most_rounds = 2000;

/// The deepest point of one polygon in another: how deep, and the way out.
struct Depth {
    double depth = 0.0;
    Vector2 out = Vector2::Zero();
};

/// How deep a point lies in a ring, 0 outside, and the normal of the edge that is nearest.
Depth depth_in(const Ring& ring, const Point2& point) {
    bool inside = false;
    Depth nearest{INFINITY, Vector2::Zero()};
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Point2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
        if ((a.y() <= point.y()) != (b.y() <= point.y()) &&
            (cross(b - a, point - a) > 0.0) == (b.y() > a.y()))
            inside = !inside;
        const Vector2 along = b - a;
        const double t = std::clamp(along.dot(point - a) / along.squaredNorm(), 0.0, 1.0);
        const double distance = (a + t * along - point).norm();
        if (distance < nearest.depth)
            nearest = {distance, Vector2(along.y(), -along.x()).normalized()};
    }
    return inside ? nearest : Depth{};
}

/// Corners and the middles of edges: of edges that lie along each other no corner need be inside.
template <typename Visit>
void for_each_probe(const Ring& ring, Visit&& visit) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
        visit(ring[i]);
        visit(Point2(0.5 * (ring[i] + ring[(i + 1) % ring.size()])));
    }
}

class Separator {
  public:
    Separator(std::span<const Ring> rings, const Box2& box, double slack)
        : rings_(rings), box_(box), slack_(slack), shifts_(rings.size(), Vector2::Zero()) {
        for (const Ring& ring : rings) boxes_.push_back(box_of(ring));
    }

    std::optional<std::vector<Vector2>> run() {
        find_pairs();
        for (int round = 0; round < most_rounds; ++round)
            if (sweep() <= slack_) return shifts_;
        return {};
    }

  private:
    /// Those that come within a thousandth of the largest extent of each other.
    void find_pairs() {
        Box2 all;
        for (const Box2& box : boxes_) all.extend(box);
        if (boxes_.empty()) return;
        const double reach = 1e-3 * all.sizes().maxCoeff();
        std::vector<Box2> near;
        for (const Box2& box : boxes_)
            near.emplace_back(box.min().array() - reach, box.max().array() + reach);
        const grid::BoxGrid cells(near);
        grid::BoxTree(cells(near)).for_each_pair([&](int i, int j) {
            pairs_.emplace_back(std::min(i, j), std::max(i, j));
        });
        std::sort(pairs_.begin(), pairs_.end(), [&](const auto& a, const auto& b) {
            const auto left = [&](const std::pair<int, int>& pair) {
                return std::min(boxes_[pair.first].min().x(), boxes_[pair.second].min().x());
            };
            return std::pair(left(a), a) < std::pair(left(b), b);
        });
    }

    /// Moves every pair apart once and everything into the box; the deepest overlap that it met.
    double sweep() {
        double deepest = 0.0;
        for (const auto& [i, j] : pairs_) {
            const Depth depth = overlap(i, j);
            if (depth.depth <= slack_ / 4.0) continue;
            deepest = std::max(deepest, depth.depth);
            // A trace more, so that the next look finds them apart. Where there is room to the
            // right the one on the right goes all the way, and a row is settled from left to right;
            // else each goes half.
            const Vector2 way = (depth.depth + slack_ / 4.0) * depth.out;
            double share = 0.5;
            if (std::isinf(box_.max().x()) && std::abs(way.x()) > std::abs(way.y()))
                share = way.x() > 0.0 ? 1.0 : 0.0;
            shifts_[i] += share * way;
            shifts_[j] -= (1.0 - share) * way;
        }
        for (std::size_t i = 0; i < rings_.size(); ++i) {
            const Vector2 low = box_.min() - (boxes_[i].min() + shifts_[i]);
            const Vector2 high = (boxes_[i].max() + shifts_[i]) - box_.max();
            for (int axis = 0; axis < 2; ++axis) {
                const double back = std::max(low[axis], 0.0) - std::max(high[axis], 0.0);
                deepest = std::max(deepest, std::abs(back));
                shifts_[i][axis] += back;
            }
        }
        return deepest;
    }

    /// Of i in j, its way out; points of either in the other.
    Depth overlap(int i, int j) const {
        Box2 a = boxes_[i], b = boxes_[j];
        a.translate(shifts_[i]);
        b.translate(shifts_[j]);
        if (!a.intersects(b)) return {};
        Depth deepest;
        const Vector2 between = shifts_[i] - shifts_[j];
        for_each_probe(rings_[i], [&](const Point2& probe) {
            if (!b.contains(probe + shifts_[i])) return;
            const Depth depth = depth_in(rings_[j], probe + between);
            if (depth.depth > deepest.depth) deepest = depth;
        });
        for_each_probe(rings_[j], [&](const Point2& probe) {
            if (!a.contains(probe + shifts_[j])) return;
            const Depth depth = depth_in(rings_[i], probe - between);
            if (depth.depth > deepest.depth) deepest = {depth.depth, -depth.out};
        });
        return deepest;
    }

    std::span<const Ring> rings_;
    Box2 box_;
    double slack_;
    std::vector<Vector2> shifts_;
    std::vector<Box2> boxes_;
    std::vector<std::pair<int, int>> pairs_;
};

}  // namespace

std::optional<std::vector<Vector2>> separated(std::span<const Ring> rings, const Box2& box,
                                              double slack) {
    return Separator(rings, box, slack).run();
}

}  // namespace planform
