#pragma once

/// Is a solid in order as it was read? What healing would look for, without changing anything.

#include <TopoDS_Face.hxx>
#include <TopoDS_Shape.hxx>
#include <vector>

#include "model/heal/face_loops.hpp"

namespace planform::model {

/// True if each shell of a solid is closed, in one piece and turned alike throughout: each edge
/// bounds two stretches of faces, one each way, and no two shells share an edge.
bool is_closed_and_consistent(const TopoDS_Shape& solid);

/// True if an edge has a curve that starts and ends at its vertices, and these are apart unless
/// they are one. `precision` in mm.
bool is_sound_edge(const TopoDS_Edge& edge, double precision);

/// True if a planar face has one outline, turned to the left seen from the tip of the plane's
/// normal, and all its other loops are holes, turned to the right. Areas of loops below 1e-9 of the
/// square of their length count as not known: false.
bool is_sound_plane(const TopoDS_Face& face, const std::vector<Loop>& loops);

/// True if the outside is outside: one shell holds a positive volume, all others, which are
/// cavities, a negative one. Throws the kernel's exceptions.
bool is_turned_outward(const TopoDS_Shape& solid);

}  // namespace planform::model
