#pragma once

/// How often, and in which direction, each stretch of an edge bounds a part that faces the viewer.

#include <vector>

#include "flatten/collect/outline.hpp"
#include "solid/shape_graph.hpp"

namespace planform::flatten {

/// A part of an edge beside which a face looks at the viewer: weight 1 along the edge, -1 against
/// it.
struct EdgeStretch {
    int edge;
    double from;
    double to;
    int weight;
};

/// Adds up stretches of one edge. A stretch between two parts that face the viewer cancels, one
/// between a part that does and one that doesn't stays.
class EdgeCoverage {
  public:
    explicit EdgeCoverage(const solid::GraphEdge& edge) : edge_(&edge) {}

    /// The nodes of the edge's own ends, before the first place on it is asked for. The edge must
    /// have been read (ShapeGraph::read_edge).
    void set_nodes(int start, int end) {
        start_node_ = start;
        end_node_ = end;
    }
    /// The node at parameter t; the one already there if it is within rounding.
    int node_at(double t, Outline& outline);
    /// Both ends are places given to node_at, or the edge's own ends.
    void add(const EdgeStretch& stretch);
    /// The whole edge, in its direction or against it.
    void add_whole(int weight) { whole_ += weight; }
    /// False if nothing can stay.
    bool is_used() const { return whole_ != 0 || !breaks_.empty(); }
    /// Hands what stays over to the outline.
    void emit(double tolerance, const Provenance& provenance, Outline& outline) const;

  private:
    struct Break {
        double at;
        int node;
        int change;  ///< of the weight, from here on
    };
    Break& break_at(double t);
    /// Most edges are never split: the list is made when the first place on the edge is asked for.
    void prepare();

    const solid::GraphEdge* edge_;
    int start_node_ = -1, end_node_ = -1;
    int whole_ = 0;              ///< weight of the whole edge, beside what is in `breaks_`
    std::vector<Break> breaks_;  ///< ascending, from the edge's start to its end; or empty
};

}  // namespace planform::flatten
