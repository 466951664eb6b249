#pragma once

/// The ways to a silhouette that we are measured against.

#include <TopoDS_Shape.hxx>
#include <optional>

#include "planform/datum.hpp"

namespace benchmark {

/// Milliseconds of HLRBRep_Algo (Update and Hide) along the datum's normal: loose visible edges
/// come out, not outlines.
double hidden_line_removal(const TopoDS_Shape& shape, const planform::Datum& datum);

struct MeshUnion {
    double mesh_milliseconds = 0.0;
    /// Union of all projected triangles. Nothing if there were too many, or Clipper was not at
    /// hand.
    std::optional<double> union_milliseconds;
    /// Union of the triangles that face the viewer: enough if the mesh is known to be closed and
    /// turned outward.
    std::optional<double> facing_milliseconds;
    double area = 0.0;  ///< mm^2, of the union
    int triangles = 0;
    double total() const { return mesh_milliseconds + union_milliseconds.value_or(0.0); }
    double facing_total() const { return mesh_milliseconds + facing_milliseconds.value_or(0.0); }
};

/// BRepMesh_IncrementalMesh at `deflection` mm, then Clipper's union of the projected triangles.
MeshUnion mesh_and_union(const TopoDS_Shape& shape, const planform::Datum& datum, double deflection,
                         int most_triangles);

}  // namespace benchmark
