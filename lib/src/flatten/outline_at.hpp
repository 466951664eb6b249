#pragma once

/// From one solid to the directed curves of its outline at the top, at the bottom or through both.

#include "flatten/collect/outline.hpp"
#include "planform/flatten.hpp"

namespace planform::flatten {

/// Adds the curves whose winding numbers are the outline at the top or at the bottom; for `through`
/// the outline at the bottom as operand 0 and what ends below the top as operand 1. The planes of
/// top and bottom are moved into the material by `move`, mm; throws GeometryError if that leaves
/// them at a vertex.
void add_outline_at(const Solid& solid, const Datum& datum, At at, int index, double tolerance,
                    double move, Outline& outline);

}  // namespace planform::flatten
