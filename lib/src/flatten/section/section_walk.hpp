#pragma once

/// The boundary of a face of which some edge or vertex lies in the cutting plane.

#include <Geom2d_Curve.hxx>
#include <optional>
#include <vector>

#include "flatten/collect/edge_coverage.hpp"
#include "flatten/zero_sets/level_curves.hpp"
#include "flatten/zero_sets/plane_cut.hpp"
#include "solid/inset_curve.hpp"

namespace planform::flatten {

/// A use of an edge in the parameters of its face; on a plane, in the plane's own coordinates.
class UseCurve {
  public:
    /// `use` is one of the face's own.
    UseCurve(const solid::GraphFace& face, const solid::EdgeUse& use,
             const solid::ShapeGraph& graph, const solid::FaceSurface& surface);

    Point2 on(double t) const;
    Point2 inside(double t) const;
    /// So little inside that it only tells apart the two sides of a seam.
    Point2 just_inside(double t) const { return inside(t, 1e-9); }
    /// The same at a given share of the face's parameter box from the boundary.
    Point2 inside(double t, double share) const;
    double margin(double t) const;
    double first() const { return first_; }
    double last() const { return last_; }

  private:
    const solid::GraphEdge& edge_;
    const solid::FaceSurface& surface_;
    double first_, last_;
    std::optional<solid::InsetCurve> curve_;  ///< not set on a plane
};

/// True if a level curve of the face starts at this root: along the boundary walk, seen from
/// outside, the height turns from + to -.
bool starts_curve(const EdgeRoot& root, const solid::GraphFace& face, const solid::EdgeUse& use);

/// Walks the boundary a little inside the face. Along an edge in the plane, where the face falls
/// away to the side that is cut, the section runs along the edge itself; at corners where the sign
/// changes a level curve starts or ends in the vertex.
class SectionWalk {
  public:
    SectionWalk(const solid::GraphFace& face, const HeightField& field,
                const solid::ShapeGraph& graph, PlaneCut& cut, Outline& outline);

    void run();
    const std::vector<EdgeStretch>& stretches() const { return stretches_; }
    const std::vector<BoundaryRoot>& roots() const { return roots_; }

  private:
    struct Use {
        const solid::EdgeUse* use;
        bool starts_above, ends_above;  ///< just inside the face, by the edge's parameter
        Point2 start_uv, end_uv, start_inside, end_inside;
        bool runs_with_parameter;
        int start_vertex, end_vertex;
    };

    const solid::GraphEdge& edge_of(const solid::EdgeUse& use) const {
        return graph_.edges[static_cast<std::size_t>(use.edge)];
    }
    void place_ends(const UseCurve& curve, Use& found) const;
    void across(const UseCurve& curve, Use& found);
    void along_plane(const UseCurve& curve, Use& found);
    void along_plane_straight(Use& found);
    bool above_beside(const UseCurve& curve, double t) const;
    void add_stretch(const Use& use, double from, double to);
    void add_corners(const std::vector<Use>& all);

    const solid::GraphFace& face_;
    const HeightField& field_;
    const solid::ShapeGraph& graph_;
    PlaneCut& cut_;
    Outline& outline_;
    std::vector<EdgeStretch> stretches_;
    std::vector<BoundaryRoot> roots_;
};

}  // namespace planform::flatten
