#pragma once

/// Area of a face, and its share of the solid's volume.

#include <gp_Trsf.hxx>
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
    /// sum over all faces is the solid's volume (the divergence theorem). Nothing where it takes an
    /// integral over the inside of the face.
    std::optional<double> cone;
};

/// Of planes, cylinders and surfaces of extrusion from the face's edges in space by Green's
/// theorem: in closed form along lines and along circles about the axis, by Gauss' rule along
/// others; else by integrals over the face. `forms` by edge of the graph, null for degenerate ones;
/// `placement` that of the graph. Throws the kernel's exceptions.
FaceMeasure measure_face(const solid::GraphFace& face, const gp_Trsf& placement,
                         const SheetSurface& surface,
                         const std::vector<std::optional<EdgeForm>>& forms, const Point3& apex);

/// The cone of any face, by an integral over its inside.
double cone_of(const solid::GraphFace& face, const gp_Trsf& placement, const Point3& apex);

}  // namespace planform::unfolding
