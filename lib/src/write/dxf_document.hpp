#pragma once

/// Everything of a DXF file but its entities: what AC1015 asks for so that any reader opens it.
/// Source: the published DXF reference for AC1015; group codes from memory of it, judged by a
/// reader.

#include <string_view>

#include "planform/geometry.hpp"
#include "planform/write.hpp"
#include "write/dxf_groups.hpp"
#include "write/outline.hpp"

namespace planform::write {

/// The block record that owns all entities of the drawing.
extern const Handle model_space;
/// Handles from here on are free for entities.
extern const Handle first_entity;

/// The application under which entities carry the name of their profile or mark (extended data).
inline constexpr std::string_view name_application = "PLANFORM";

/// Name of the layer of a role.
std::string_view layer_of(Role role);

/// The whole file around the entities. `extents` in drawing units (empty if there are no entities);
/// `next` is the first handle that no entity has; `with_bends`: the layer of bend lines is used.
std::string dxf_document(const DxfGroups& entities, const Box2& extents, DrawingUnit unit,
                         Handle next, bool with_bends);

}  // namespace planform::write
