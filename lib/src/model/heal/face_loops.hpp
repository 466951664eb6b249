#pragma once

/// The boundary of a face, loop by loop, as it stands in a shape that nobody has healed.

#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <optional>
#include <vector>

namespace planform::model {

/// Edges head to tail, each turned as the loop runs.
using Loop = std::vector<TopoDS_Edge>;

/// The loops of a face as if its orientation were FORWARD: material to the left, seen from the tip
/// of the surface's normal. Nothing if a loop doesn't run from vertex to vertex and back to its
/// start, if the face has none, or if anything but loops and edges is in it or any of them is
/// moved.
std::optional<std::vector<Loop>> loops_of(const TopoDS_Face& face);

/// Areas of a face's loops in a plane or in its parameters: true if one is positive, the outline,
/// and all others are negative and smaller, its holes.
bool is_outline_with_holes(const std::vector<double>& areas);

}  // namespace planform::model
