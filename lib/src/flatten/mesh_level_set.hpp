#pragma once

/// The last resort for a face whose zero set can't be followed on the surface: on its triangles it can.

#include <functional>
#include <vector>

#include "flatten/edge_coverage.hpp"
#include "flatten/level_curves.hpp"
#include "flatten/shape_graph.hpp"

namespace planform::flatten {

/// The boundary of the parts of a face where the field is positive.
struct MeshLevelSet {
    std::vector<EdgeStretch> stretches;  ///< along the face's edges
    std::vector<LevelCurve> curves;      ///< inside the face, straight pieces
};

/// Meshes the face alone, takes the sign of the field at each node and cuts each triangle in which
/// it changes. What comes out is closed whatever the field does; points of the zero set are exact, the
/// pieces between them within `tolerance` mm. `node_at(edge, t)` names the node at a place of an edge.
/// Throws GeometryError(face_not_flattened) if the kernel can't mesh the face.
MeshLevelSet follow_folds_on_mesh(const GraphFace& face, const LevelField& field,
                                  const ShapeGraph& graph, const std::vector<int>& vertex_nodes,
                                  const std::function<int(int edge, double t)>& node_at,
                                  Outline& outline, double tolerance);

}  // namespace planform::flatten
