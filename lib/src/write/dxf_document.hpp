#pragma once

/// Everything of a DXF file but its entities: what AC1015 asks for so that any reader opens it.
/// Source: the published DXF reference for AC1015; group codes from memory of it, judged by a
/// reader.

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "planform/geometry.hpp"
#include "planform/write.hpp"
#include "write/dxf_groups.hpp"
#include "write/layers.hpp"

namespace planform::write {

/// The block record that owns all entities of the drawing.
extern const Handle model_space;
/// Handles from here on are free for entities.
extern const Handle first_entity;

/// The application under which entities carry the name of their profile or mark (extended data).
inline constexpr std::string_view name_application = "PLANFORM";

/// Our own layers. Colours by index: our own choice, legible on dark and light grounds.
inline constexpr std::array<OwnLayer, 3> own_layers{
    {{"CUT_OUTER", 5, 0x0000FF}, {"CUT_INNER", 30, 0xFF7F00}, {"MARK", 94, 0x007F00}}};

/// A layer's name as the format can hold it. Throws GeometryError (invalid_argument) for one with
/// characters that it forbids, or none.
std::string dxf_layer_name(std::string_view name);

/// The whole file around the entities. `extents` in drawing units (empty if there are no entities);
/// `next` is the first handle that no entity has.
std::string dxf_document(const DxfGroups& entities, const Box2& extents, DrawingUnit unit,
                         Handle next, const std::vector<Layer>& layers);

}  // namespace planform::write
