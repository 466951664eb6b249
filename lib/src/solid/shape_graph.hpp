#pragma once

/// A solid as vertices, edges and faces with the uses of edges by faces, placed in datum
/// coordinates.

#include <Geom2d_Curve.hxx>
#include <Geom_Curve.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Shape.hxx>
#include <deque>
#include <gp_Trsf.hxx>
#include <memory>
#include <span>
#include <vector>

#include "model/body/face_boundaries.hpp"
#include "model/kernel/shape_numbering.hpp"
#include "planform/datum.hpp"
#include "planform/geometry.hpp"
#include "planform/model.hpp"

namespace planform::solid {

/// An edge as a face uses it. `along` tells the direction in which the face's boundary runs when
/// the face is seen from the tip of its surface's own normal dS/du x dS/dv: along the edge or
/// against it.
struct EdgeUse {
    int edge;
    bool along;
    const TopoDS_Edge* plain;  ///< kept by the graph

    /// Oriented as in the face: picks the right curve on a seam.
    TopoDS_Edge shape() const {
        return TopoDS::Edge(plain->Oriented(along ? TopAbs_FORWARD : TopAbs_REVERSED));
    }
};

struct GraphEdge {
    Handle(Geom_Curve) curve;            ///< null for a degenerate edge (a pole or an apex)
    const gp_Trsf* placed_by = nullptr;  ///< from the curve to datum coordinates, kept by the graph
    double first = 0.0;
    double last = 0.0;
    int start_vertex = -1;
    int end_vertex = -1;
    int number = 0;          ///< 1-based, in the solid's own topology
    bool is_placed = false;  ///< false: the placement is the identity
    bool is_read = false;    ///< see ShapeGraph::read_edge

    bool degenerate() const { return curve.IsNull(); }
    const gp_Trsf& placement() const { return *placed_by; }
    Point3 point(double t) const;
};

struct GraphFace {
    TopoDS_Face
        shape;  ///< oriented FORWARD, in the solid's own coordinates (see ShapeGraph::placement)
    int outward = 1;                ///< -1: the solid's outward normal is against dS/du x dS/dv
    int number = 0;                 ///< 1-based, in the solid's own topology
    std::span<const EdgeUse> uses;  ///< kept by the graph
    /// Once read, for whoever asks for the face's surface again, from whichever side.
    std::shared_ptr<const model::FaceBoundary> boundary;
};

/// What of the edges is looked at when the graph is made.
enum class EdgeReading {
    at_once,   ///< curves and vertices of all edges
    on_demand  ///< only which faces use them: most edges of a silhouette are never looked at
};

class ShapeGraph {
  public:
    std::vector<Point3> vertices;  ///< in datum coordinates; of the edges that were read
    std::vector<GraphEdge> edges;
    std::deque<GraphFace> faces;
    gp_Trsf placement;  ///< from the coordinates of the faces' shapes to those of the datum
    /// Every edge is used as often in one direction as in the other: the faces close and agree
    /// about which side is out.
    bool closed = true;
    int first_open_edge = 0;  ///< number of an edge that is not, 0 if closed

    ShapeGraph(ShapeGraph&&) = default;
    ShapeGraph& operator=(ShapeGraph&&) = default;

    /// Sees to it that the curve and the vertices of an edge are known. Throws GeometryError for an
    /// edge without a curve.
    void read_edge(int edge);

    /// Keeps what was read of the faces' boundaries for the next graph of the same solid.
    void give_back(const Solid& solid) const;

    /// Moves what is known to the coordinates of another datum: at a fraction of the cost of a new
    /// graph. `from` is the datum that it was made for.
    void move(const Datum& from, const Datum& to);

  private:
    friend class ShapeGraphBuilder;
    ShapeGraph() = default;
    int vertex(const TopoDS_Shape& shape);
    const gp_Trsf* placed(const TopLoc_Location& location);

    std::vector<EdgeUse> uses_;
    std::deque<TopoDS_Edge> edge_shapes_;  ///< by edge, oriented FORWARD
    model::ShapeNumbering vertex_numbers_;
    std::deque<gp_Trsf> placements_;  ///< the first is that of the whole
    TopLoc_Location last_location_;   ///< of the last of `placements_`
};

/// The kernel's transform from model to datum coordinates.
gp_Trsf datum_transform(const Datum& datum);

/// Topology of `shape` in coordinates of `datum`; the shape must outlive the graph. Throws
/// GeometryError for an edge without a curve (on demand: when that edge is read).
ShapeGraph build_shape_graph(const TopoDS_Shape& shape, const Datum& datum,
                             EdgeReading reading = EdgeReading::at_once);
/// The same, with what earlier graphs of the solid gave back.
ShapeGraph build_shape_graph(const Solid& solid, const Datum& datum,
                             EdgeReading reading = EdgeReading::at_once);

}  // namespace planform::solid
