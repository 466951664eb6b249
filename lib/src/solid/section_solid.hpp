#pragma once

/// One solid made ready to be cut by parallel planes: what they share is found once.

#include <limits>
#include <memory>
#include <vector>

#include "solid/face_surface.hpp"
#include "solid/shape_graph.hpp"

namespace planform::solid {

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

/// Copies share what is found once and never changed again, but each makes the surfaces that it is
/// asked for itself: the kernel keeps what it evaluated last in them. So a copy belongs to one
/// thread at a time, and different copies may be used by different threads.
class SectionSolid {
  public:
    explicit SectionSolid(ShapeGraph graph);
    SectionSolid(const SectionSolid& other);
    SectionSolid(SectionSolid&&) = default;
    SectionSolid& operator=(const SectionSolid&) = delete;
    SectionSolid& operator=(SectionSolid&&) = default;
    ~SectionSolid() = default;

    const ShapeGraph& graph() const { return shared_->graph; }
    const HeightRange& edge_range(int edge) const {
        return shared_->edge_ranges[static_cast<std::size_t>(edge)];
    }
    const HeightRange& face_range(std::size_t face) const { return shared_->face_ranges[face]; }
    const HeightRange& range() const { return shared_->range; }
    /// The surface of a face, made when it is first asked for.
    const FaceSurface& surface(std::size_t face) const;

  private:
    struct Shared {
        ShapeGraph graph;
        std::vector<HeightRange> edge_ranges;
        std::vector<HeightRange> face_ranges;
        HeightRange range;

        explicit Shared(ShapeGraph shape_graph);
        HeightRange bound_edge(const GraphEdge& edge) const;
        HeightRange bound_face(const GraphFace& face) const;
    };

    std::shared_ptr<const Shared> shared_;
    mutable std::vector<std::unique_ptr<FaceSurface>> surfaces_;
};

}  // namespace planform::solid
