#pragma once

/// Where a face looks at the viewer, seen along its boundary.

#include <vector>

#include "flatten/edge_coverage.hpp"
#include "flatten/level_curves.hpp"

namespace planform::flatten {

/// Walks the uses of a face's edges: adds the stretches beside which the face looks at the viewer to
/// the coverage of the edges, and returns the roots in between.
///
/// The sign is taken just inside the boundary, not on it: there folds along seams, fillets tangent to
/// walls and poles would give noise.
class FacingBoundary {
  public:
    FacingBoundary(const GraphFace& face, const LevelField& field, const ShapeGraph& graph,
                   const std::vector<int>& vertex_nodes, std::vector<EdgeCoverage>& coverage,
                   Outline& outline);

    std::vector<BoundaryRoot> run();

  private:
    struct UseSigns;

    UseSigns scan(const EdgeUse& use) const;
    void cover(const UseSigns& signs);
    void add_vertex_roots(const std::vector<UseSigns>& all);

    const GraphFace& face_;
    const LevelField& field_;
    const ShapeGraph& graph_;
    const std::vector<int>& vertex_nodes_;
    std::vector<EdgeCoverage>& coverage_;
    Outline& outline_;
    std::vector<BoundaryRoot> roots_;
};

}  // namespace planform::flatten
