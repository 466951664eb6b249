#include "query/tree.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace planform::query {

namespace {

constexpr std::uint32_t most_in_leaf = 4;

}  // namespace

Tree::Tree(const Pieces& pieces) {
    const std::size_t count = pieces.pieces.size();
    if (count == 0) return;
    std::vector<Box2> boxes;
    boxes.reserve(count);
    for (const Piece& piece : pieces.pieces) boxes.push_back(piece.atom.box());
    order_.resize(count);
    std::iota(order_.begin(), order_.end(), 0U);
    build(pieces, boxes, 0, static_cast<std::uint32_t>(count));
}

void Tree::build(const Pieces& pieces, const std::vector<Box2>& boxes, std::uint32_t first,
                 std::uint32_t last) {
    const std::size_t here = nodes_.size();
    nodes_.push_back({{}, first, last - first});
    Box2 centers;
    for (std::uint32_t i = first; i < last; ++i) {
        nodes_[here].box.extend(boxes[order_[i]]);
        centers.extend(boxes[order_[i]].center());
    }
    if (last - first <= most_in_leaf) return;
    const int axis = centers.sizes().x() >= centers.sizes().y() ? 0 : 1;
    const std::uint32_t middle = first + (last - first) / 2;
    std::nth_element(order_.begin() + first, order_.begin() + middle, order_.begin() + last,
                     [&](std::uint32_t a, std::uint32_t b) {
                         const double x = boxes[a].center()[axis], y = boxes[b].center()[axis];
                         return x != y ? x < y : a < b;
                     });
    build(pieces, boxes, first, middle);
    nodes_[here].first = static_cast<std::uint32_t>(nodes_.size());
    nodes_[here].count = 0;
    build(pieces, boxes, middle, last);
}

NearestSearch Tree::search(const Point2& point, const Pieces& pieces) const {
    NearestSearch search(point, pieces);
    if (!nodes_.empty()) {
        struct Waiting {
            std::uint32_t node;
            double squared;
        };
        // A node waits on each level at most, beside the one that is looked at.
        std::array<Waiting, 64> waiting;
        std::size_t count = 0;
        std::uint32_t node = 0;
        while (true) {
            const Node& here = nodes_[node];
            if (here.count == 0) {
                const std::uint32_t left = node + 1, right = here.first;
                const double to_left = nodes_[left].box.squaredExteriorDistance(point);
                const double to_right = nodes_[right].box.squaredExteriorDistance(point);
                const bool left_first = to_left <= to_right;
                const double nearer = left_first ? to_left : to_right;
                const double further = left_first ? to_right : to_left;
                if (further < search.squared())
                    waiting[count++] = {left_first ? right : left, further};
                if (nearer < search.squared()) {
                    node = left_first ? left : right;
                    continue;
                }
            } else {
                for (std::uint32_t i = here.first; i < here.first + here.count; ++i)
                    search.offer(order_[i]);
            }
            while (count > 0 && waiting[count - 1].squared >= search.squared()) --count;
            if (count == 0) break;
            node = waiting[--count].node;
        }
    }
    return search;
}

}  // namespace planform::query
