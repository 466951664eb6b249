#pragma once

/// Where a face looks at the viewer, seen along its boundary.

#include <cstddef>
#include <vector>

#include "flatten/collect/edge_coverage.hpp"
#include "flatten/silhouette/boundary_places.hpp"
#include "flatten/zero_sets/level_curves.hpp"
#include "solid/inset_curve.hpp"

namespace planform::flatten {

/// The boundary of the parts of a face that look at the viewer, but for the folds inside the face.
struct FacingParts {
    std::vector<EdgeStretch> stretches;
    std::vector<BoundaryRoot> roots;  ///< where folds meet the boundary
};

/// Walks the uses of a face's edges. The sign is taken just inside the boundary, not on it: there
/// folds along seams, fillets tangent to walls and poles would give noise.
class FacingBoundary {
  public:
    FacingBoundary(const solid::GraphFace& face, const FacingField& field,
                   const solid::ShapeGraph& graph, const std::vector<int>& vertex_nodes,
                   std::vector<EdgeCoverage>& coverage, Outline& outline, double tolerance);

    FacingParts run();

  private:
    struct UseSigns;

    UseSigns scan(const solid::EdgeUse& use, const solid::ParameterCurve& side,
                  const solid::InsetCurve& curve) const;
    double polished_root(const UseSigns& signs, const solid::InsetCurve& curve,
                         std::size_t index) const;
    void split(const UseSigns& signs, const solid::InsetCurve& curve);
    void add_vertex_roots(const std::vector<UseSigns>& all);
    void add_stretch(const UseSigns& signs, double from, double to);

    const solid::GraphFace& face_;
    const FacingField& field_;
    BoundaryPlaces places_;
    const solid::ShapeGraph& graph_;
    const std::vector<int>& vertex_nodes_;
    std::vector<EdgeCoverage>& coverage_;
    Outline& outline_;
    double tolerance_;
    FacingParts parts_;
};

}  // namespace planform::flatten
