#pragma once

/// A solid as vertices, edges and faces with the uses of edges by faces, placed in datum
/// coordinates.

#include <Geom2d_Curve.hxx>
#include <Geom_Curve.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Shape.hxx>
#include <gp_Trsf.hxx>
#include <vector>

#include "planform/datum.hpp"
#include "planform/geometry.hpp"

namespace planform::flatten {

/// An edge as a face uses it. `along` tells the direction in which the face's boundary runs when
/// the face is seen from the tip of its surface's own normal dS/du x dS/dv: along the edge or
/// against it.
struct EdgeUse {
    int edge;
    bool along;
    TopoDS_Edge shape;  ///< oriented as in the face: picks the right curve on a seam
};

struct GraphEdge {
    Handle(Geom_Curve) curve;  ///< null for a degenerate edge (a pole or an apex)
    gp_Trsf placement;         ///< from the curve to datum coordinates
    bool is_placed = false;    ///< false: the placement is the identity
    double first = 0.0;
    double last = 0.0;
    int start_vertex = -1;
    int end_vertex = -1;
    int number = 0;  ///< 1-based, in the solid's own topology

    bool degenerate() const { return curve.IsNull(); }
    Point3 point(double t) const;
};

struct GraphFace {
    TopoDS_Face
        shape;  ///< oriented FORWARD, in the solid's own coordinates (see ShapeGraph::placement)
    int outward = 1;  ///< -1: the solid's outward normal is against dS/du x dS/dv
    int number = 0;   ///< 1-based, in the solid's own topology
    std::vector<EdgeUse> uses;
};

struct ShapeGraph {
    std::vector<Point3> vertices;  ///< in datum coordinates
    std::vector<GraphEdge> edges;
    std::vector<GraphFace> faces;
    gp_Trsf placement;  ///< from the coordinates of the faces' shapes to those of the datum
    /// Every edge is used as often in one direction as in the other: the faces close and agree
    /// about which side is out.
    bool closed = true;
    int first_open_edge = 0;  ///< number of an edge that is not, 0 if closed
};

/// The kernel's transform from model to datum coordinates.
gp_Trsf datum_transform(const Datum& datum);

/// Topology of `shape` in coordinates of `datum`. Throws GeometryError for an edge without a curve.
ShapeGraph build_shape_graph(const TopoDS_Shape& shape, const Datum& datum);

}  // namespace planform::flatten
