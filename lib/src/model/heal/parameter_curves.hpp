#pragma once

/// Curves in the parameters of a face, which STEP files mostly leave out.

#include <TopTools_IndexedMapOfShape.hxx>
#include <vector>

#include "model/heal/face_loops.hpp"

namespace planform::model {

/// Gives each edge of a curved face its curve in the face's parameters, without jumps by a period
/// along a loop, holes inside the outline. Rulings, parallels and meridians of cylinders, cones,
/// spheres and tori are straight there, as fast as in space, and within 1e-7 mm of the edge; for
/// the rest the kernel projects the edge to within `precision`, mm, and these edges are added to
/// `projected`. False if healing must look at the face: a seam or pole is missing, loops turn the
/// wrong way, a projected seam, curves that the file gave. Throws the kernel's exceptions.
bool add_parameter_curves(const TopoDS_Face& face, const std::vector<Loop>& loops, double precision,
                          TopTools_IndexedMapOfShape& projected);

}  // namespace planform::model
