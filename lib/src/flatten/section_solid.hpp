#pragma once

/// One solid made ready to be cut by parallel planes: what they share is found once.

#include <limits>
#include <memory>
#include <vector>

#include "flatten/face_surface.hpp"
#include "flatten/shape_graph.hpp"

namespace planform::flatten {

/// Heights over the datum between which something lies; a bound, not always tight.
struct HeightRange {
    double low = std::numeric_limits<double>::infinity();
    double high = -std::numeric_limits<double>::infinity();

    void extend(double height);
    void extend(const HeightRange& other);
    bool meets(double level, double margin) const {
        return low <= level + margin && high >= level - margin;
    }
    static HeightRange everything();
};

class SectionSolid {
  public:
    explicit SectionSolid(ShapeGraph graph);

    const ShapeGraph& graph() const { return graph_; }
    const HeightRange& edge_range(int edge) const {
        return edge_ranges_[static_cast<std::size_t>(edge)];
    }
    const HeightRange& face_range(std::size_t face) const { return face_ranges_[face]; }
    const HeightRange& range() const { return range_; }
    /// The surface of a face, made when it is first asked for.
    const FaceSurface& surface(std::size_t face) const;

  private:
    HeightRange bound_edge(const GraphEdge& edge) const;
    HeightRange bound_face(const GraphFace& face) const;

    ShapeGraph graph_;
    std::vector<HeightRange> edge_ranges_;
    std::vector<HeightRange> face_ranges_;
    HeightRange range_;
    mutable std::vector<std::unique_ptr<FaceSurface>> surfaces_;
};

}  // namespace planform::flatten
