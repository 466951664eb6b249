#pragma once

/// The areas of a body's faces as vectors: what a proof holds a flattening against.

#include <Geom_Curve.hxx>
#include <TopoDS_Shape.hxx>
#include <gp_Trsf.hxx>
#include <vector>

#include "planform/geometry.hpp"

namespace planform::model {

/// Half the integral of (P - reference) x dP along an edge, and how long the edge is.
struct EdgeArea {
    Vector3 area = Vector3::Zero();  ///< mm^2, in the direction of the edge's curve
    double length = 0.0;             ///< mm; of curves: of a polyline along them
};

/// The area vector of a face: its product with a unit vector n is the signed area that the face
/// covers on a plane across n, positive where the face looks along n (Stokes' theorem: the
/// integral of the normal over a surface is that of P x dP / 2 round its boundary). It follows
/// from the boundary alone: whatever the surface does in between.
struct FaceArea {
    Vector3 area = Vector3::Zero();  ///< mm^2, out of the solid
    double perimeter = 0.0;          ///< mm
};

/// Of a piece of a curve that `placement` carries to where the reference is. Closed form for lines,
/// circles and ellipses, else Gauss' rule span by span, to 1e-12 of the piece's size.
EdgeArea edge_area(const Handle(Geom_Curve) & curve, double first, double last,
                   const gp_Trsf& placement, const Point3& reference);

/// Of all faces and edges of a shape, in the order in which a walk over its parts meets them
/// first (TopoDS_Iterator; faces each time they are met, edges once).
struct AreaVectors {
    std::vector<FaceArea> faces;
    std::vector<EdgeArea> edges;
    Point3 reference = Point3::Zero();  ///< a point of the shape, so that few digits cancel
};

/// Edges run from vertex to vertex: where a curve ends beside its vertex the way there is straight,
/// so that boundaries close. Edges without a curve count as nothing. Throws the kernel's
/// exceptions.
AreaVectors area_vectors(const TopoDS_Shape& shape);

}  // namespace planform::model
