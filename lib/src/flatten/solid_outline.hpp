#pragma once

/// From one solid to directed curves, by either way of flattening.

#include <functional>
#include <string>

#include "flatten/outline.hpp"
#include "flatten/shape_graph.hpp"

namespace planform::flatten {

/// Adds the curves whose winding numbers are the shadow of the solid.
void add_silhouette(const ShapeGraph& graph, int solid, double tolerance, Outline& outline);

/// Adds the curves in which the datum (height 0) cuts the solid, material on the left.
void add_section(const ShapeGraph& graph, int solid, double tolerance, Outline& outline);

/// Runs `work`; errors come out with the number of the face, those of the kernel as GeometryError.
void in_face(int number, const std::function<void()>& work);

}  // namespace planform::flatten
