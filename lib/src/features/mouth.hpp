#pragma once

/// How far the places of a recess lie from its mouth.

#include <vector>

#include "grid/box_grid.hpp"
#include "grid/box_tree.hpp"
#include "planform/geometry.hpp"
#include "solid/shape_graph.hpp"

namespace planform::features {

/// Horizontal distances of places from an edge.
class EdgeDistance {
  public:
    explicit EdgeDistance(const solid::GraphEdge& edge);

    /// Of the place, mm; or anything up to `least` if it is no farther than that, or not below
    /// `most` if it is no nearer than that.
    double to(const Point2& place, double least, double most) const;

    /// The edge lies in it, seen from above, as far as its samples tell.
    Box2 box() const;

  private:
    Point2 at(double t) const { return edge_->point(t).head<2>(); }
    double around(int i, const Point2& place) const;
    double reach() const;

    const solid::GraphEdge* edge_;
    bool straight_;
    double step_;
    double longest_ = 0.0;  ///< between two samples
    std::vector<Point2> samples_;
};

/// The edges through which a recess opens. A recess that runs through all chambers of a connector
/// has thousands, and a hundred thousand places: each asks the few edges that are near it.
class Mouth {
  public:
    /// At least one edge.
    explicit Mouth(const std::vector<EdgeDistance>& edges);

    /// The larger of `depth` and the horizontal distance from the place to the nearest edge, mm.
    double deeper(double depth, const Point2& place) const;

  private:
    Mouth(std::vector<EdgeDistance> edges, const std::vector<Box2>& boxes);

    std::vector<EdgeDistance> edges_;
    grid::BoxGrid grid_;
    grid::BoxTree tree_;
};

}  // namespace planform::features
