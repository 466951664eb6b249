#pragma once

/// A tree of boxes over the pieces of an outline, for the nearest of them.

#include <cstdint>
#include <vector>

#include "query/nearest.hpp"
#include "query/pieces.hpp"

namespace planform::query {

/// Packed: boxes are halved at their median across the longer side, so that a tree of n pieces is
/// about log2(n / 2) high.
class Tree {
  public:
    explicit Tree(const Pieces& pieces);

    /// Of all pieces; keeps references to both.
    NearestSearch search(const Point2& point, const Pieces& pieces) const;

  private:
    struct Node {
        Box2 box;
        std::uint32_t first;  ///< of a leaf: in `order_`; else the index of its second child
        std::uint32_t count;  ///< pieces of a leaf; 0: its first child is the next node
    };
    void build(const Pieces& pieces, const std::vector<Box2>& boxes, std::uint32_t first,
               std::uint32_t last);

    std::vector<Node> nodes_;
    std::vector<std::uint32_t> order_;
};

}  // namespace planform::query
