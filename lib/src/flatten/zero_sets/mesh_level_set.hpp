#pragma once

/// The last resort for a face whose zero set can't be followed on the surface: on its triangles it
/// can.

#include <functional>
#include <vector>

#include "flatten/collect/edge_coverage.hpp"
#include "flatten/zero_sets/level_curves.hpp"
#include "solid/shape_graph.hpp"

namespace planform::flatten {

/// The boundary of the parts of a face where the field is positive.
struct MeshLevelSet {
    std::vector<EdgeStretch> stretches;  ///< along the face's edges
    std::vector<LevelCurve> curves;      ///< inside the face
};

/// Meshes the face alone, takes the sign of the field at each node and cuts each triangle in which
/// it changes: which piece follows which is the mesh's, so what comes out is closed whatever the
/// field does. The curves through the crossings are fitted to the zero set on the surface; where it
/// can't be found there they are straight, within `tolerance` mm. `node_at(edge, t)` names the node
/// at a place of an edge. Throws GeometryError(face_not_flattened) if the kernel can't mesh the
/// face.
MeshLevelSet follow_folds_on_mesh(const solid::GraphFace& face, const LevelField& field,
                                  const solid::ShapeGraph& graph,
                                  const std::vector<int>& vertex_nodes,
                                  const std::function<int(int edge, double t)>& node_at,
                                  double tolerance);

}  // namespace planform::flatten
