#pragma once

/// What silhouettes and sections of many solids have in common.

#include <functional>
#include <span>

#include "flatten/collect/outline.hpp"
#include "planform/flatten.hpp"
#include "solid/shape_graph.hpp"

namespace planform::flatten {

/// Adds the curves of one solid, of the given index in the call, to an outline.
using AddSolid = std::function<void(const Solid& solid, int index, Outline& outline)>;

/// Flattens every solid and unites them, or keeps them side by side. Errors come out with the name
/// of the solid, those of the kernel as GeometryError.
ProfileSet flatten_all(std::span<const Solid> solids, const Datum& datum,
                       const FlattenOptions& options, const AddSolid& add_solid);

/// The same where the outline of each solid is what its winding numbers say by `inside`: each is
/// then arranged alone.
ProfileSet flatten_each(std::span<const Solid> solids, const Datum& datum,
                        const FlattenOptions& options, const AddSolid& add_solid,
                        const merge::Inside& inside);

/// Throws GeometryError(shell_not_closed) unless the faces enclose material.
void check_closed(const solid::ShapeGraph& graph);

}  // namespace planform::flatten
