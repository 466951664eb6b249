#pragma once

/// Where a model contradicts itself at a vertex, no section of that very plane closes: then the
/// plane is moved to the side whose material counts.

#include <vector>

#include "solid/shape_graph.hpp"

namespace planform::flatten {

/// Nearer to the plane than this (mm) counts as in it: the confusion of common solid modellers.
inline constexpr double in_plane = 1e-7;

/// Edges and faces of a model miss their vertices by as much as this (mm), as common modellers
/// write them: a plane this near to a vertex may pass it on different sides by different edges.
inline constexpr double model_precision = 2e-5;

/// Lengths of the moves to try, mm: from just out of the plane, each twice the one before, up to
/// `model_precision`.
std::vector<double> plane_moves();

/// Is any vertex near enough to the plane at `height` to be to blame?
bool has_vertex_near(const solid::ShapeGraph& graph, double height);

/// Does the plane that was moved to `height` by `move` pass every vertex by a quarter of the way?
bool is_clear_of_vertices(const solid::ShapeGraph& graph, double height, double move);

}  // namespace planform::flatten
