#pragma once

/// Area of a face, and its share of the solid's volume.

#include <optional>
#include <vector>

#include "planform/geometry.hpp"
#include "solid/shape_graph.hpp"
#include "unfold/edge_form.hpp"
#include "unfold/sheet_surface.hpp"

namespace planform::unfolding {

struct FaceMeasure {
    double area =
        0.0;  ///< mm^2; of other surfaces than planes, cylinders and cones within a factor
    /// Signed volume between an apex and the face, positive where it looks away from it, mm^3: the
    /// sum over all faces is the solid's volume (the divergence theorem). Nothing where only the
    /// kernel can tell.
    std::optional<double> cone;
};

/// Of planes and cylinders from the face's edges in space by Green's theorem: in closed form along
/// lines and along circles about the axis, by Gauss' rule along others; else by the kernel's
/// integrals. `forms` by edge of the graph, null for degenerate ones. Throws the kernel's
/// exceptions.
FaceMeasure measure_face(const solid::GraphFace& face, const SheetSurface& surface,
                         const std::vector<std::optional<EdgeForm>>& forms, const Point3& apex);

}  // namespace planform::unfolding
