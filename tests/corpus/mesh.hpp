#pragma once

/// Triangles of solids by the kernel's mesher, as plain numbers.

#include <array>
#include <vector>

#include "planform/datum.hpp"
#include "planform/model.hpp"
#include "region.hpp"

namespace corpus {

/// A welded mesh: nodes of neighbouring faces that lie on each other are one.
struct Mesh {
    /// An edge and the triangles on its two sides; `second` is -1 where it is not known, or where
    /// more than two meet.
    struct Edge {
        std::array<int, 2> nodes;
        int first, second;
    };
    std::vector<planform::Point3> nodes;
    std::vector<std::array<int, 3>> triangles;  ///< turned outward as the faces are
    std::vector<Edge> edges;
    int bare_faces = 0;  ///< that the mesher gave no triangle

    void add(const Mesh& other);
};

/// A mesh of each solid within about `deflection` mm. The solids' own shapes are left as they are.
std::vector<Mesh> meshes_of(const std::vector<planform::Solid>& solids, double deflection);

/// A mesh on a datum.
struct ProjectedMesh {
    std::vector<planform::Point2> nodes;
    std::vector<Triangle> triangles;
    /// Edges at which the shadow may end: all but those between two triangles that look the same
    /// way. (Between two such triangles both sides of the edge are covered.)
    std::vector<Segment> rims;
};

ProjectedMesh projected(const Mesh& mesh, const planform::Datum& datum);

/// Where the plane cuts the mesh; nodes in the plane count as above it.
std::vector<Segment> cut(const Mesh& mesh, const planform::Datum& plane);

}  // namespace corpus
