#pragma once

/// What became of each face of a solid, held against the areas of the faces' boundaries.
///
/// Notation: A signed area that a face's whole boundary encloses on the datum (positive: it looks
/// at the viewer); P area of its parts that look at the viewer, N of those that look away, A = P -
/// N. The boundary alone gives A, whatever the engine thinks of the surface.

#include <functional>
#include <vector>

#include "flatten/collect/edge_coverage.hpp"
#include "flatten/collect/outline.hpp"
#include "flatten/proof/surface_extent.hpp"
#include "flatten/zero_sets/level_curve.hpp"
#include "model/measure/area_vectors.hpp"
#include "planform/proof.hpp"
#include "solid/shape_graph.hpp"

namespace planform::flatten {

/// What an engine says of a face as a whole.
enum class Facing {
    viewer,   ///< all of it looks at the viewer
    away,     ///< all of it looks away
    edge_on,  ///< it has next to no shadow of its own
};

/// Keeps what each face gives to the outline of one solid, and tells whether the laws of areas
/// hold. Deviations are areas divided by the length round which they are spread: mm.
class FaceLedger {
  public:
    /// `areas`: of the graph's shape, whose faces and edges have the same numbers. `takes_part`:
    /// which faces are flattened; empty for all. `tolerance` in mm.
    FaceLedger(const model::AreaVectors& areas, const solid::ShapeGraph& graph,
               const std::function<bool(const solid::GraphFace&)>& takes_part, double tolerance);

    /// A of a face, given by its place in the graph, mm^2.
    double area(std::size_t face) const { return projected(areas_.faces[face].area); }

    /// Law of faces, whole: A >= 0 for a face that looks at the viewer, A <= 0 for one that looks
    /// away, A = 0 for one that is seen edge-on, all within tolerance x perimeter. Enters the face
    /// if the law holds; false if it doesn't.
    bool enter_whole(std::size_t face, Facing facing);
    /// Law of faces, split: P >= 0 and N >= 0, within tolerance x the length of the parts'
    /// boundary, and P + N no more than the shadow of the surface there is, counted sheet by sheet:
    /// a hole that was filled counts twice in it. `extent` tells of that surface, `outline` the
    /// place of a node. Enters the face if the law holds.
    bool enter_split(std::size_t face, const std::vector<EdgeStretch>& stretches,
                     const std::vector<LevelCurve>& folds, const Outline& outline,
                     const std::function<SurfaceExtent(Sampling)>& extent);

    /// Law of the sum: the curves of the outline from the one numbered `first` on, each counted
    /// with its weight, enclose the sum of P over all faces. A face that was forgotten, a share of
    /// an edge that was lost or came twice, a projected curve that is not its edge break it. Throws
    /// GeometryError(law_broken) with the figures if it doesn't hold.
    void check_sum(const Outline& outline, std::size_t first);

    /// The checks so far.
    Proof proof() const;

  private:
    struct Count {
        long long checks = 0;
        double largest = 0.0;  ///< mm
    };

    double projected(const Vector3& area) const { return view_.dot(area); }
    /// Counts a check that came out `lacking` mm^2 short of its law; false if that is too much.
    bool holds(Count& law, double lacking, double length);
    double area_of(const EdgeStretch& stretch) const;
    double swept(const Point2& from, const Point2& to) const {
        return 0.5 * cross(from - pivot_, to - pivot_);
    }

    const model::AreaVectors& areas_;
    const solid::ShapeGraph& graph_;
    double tolerance_;
    Vector3 view_;      ///< in the coordinates of `areas_`
    Point3 reference_;  ///< of `areas_`, in those of the datum
    Point2 pivot_;
    double expected_ = 0.0;  ///< sum of P, mm^2
    Count faces_, sum_;
};

}  // namespace planform::flatten
