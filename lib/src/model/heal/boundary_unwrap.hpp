#pragma once

/// The boundary of a face on a periodic surface, in one piece.

#include <TopoDS_Edge.hxx>
#include <span>
#include <vector>

#include "model/kernel/parameter_curve.hpp"
#include "planform/geometry.hpp"

namespace planform::model {

/// Which edge a curve of the boundary belongs to (any number for it) and whether the boundary runs
/// along it or against it.
struct BoundaryUse {
    int edge;
    bool along;
    /// Whatever stands for the vertices at the edge's start and end, the same for the same vertex.
    /// Null: not known.
    const void* start = nullptr;
    const void* end = nullptr;
};

/// The use of an edge that counts as number `edge`, with its vertices.
BoundaryUse boundary_use(const TopoDS_Edge& shape, int edge, bool along);

/// Moves curves by whole periods (0: not periodic), so that each loop of the boundary runs on from
/// curve to curve without a jump, and loops lie within the box of the widest: real files give some
/// curves of a face a period away from the others. A curve that fits as it stands is not moved.
/// `uses` tells in which direction each curve is run. True if any was moved.
bool unwrap_boundary(std::vector<ParameterCurve>& boundary, std::span<const BoundaryUse> uses,
                     const Vector2& periods);

}  // namespace planform::model
