#pragma once

/// Which side of a closed surface is the outside.

#include <TopoDS_Shape.hxx>
#include <optional>
#include <string>

namespace planform::model {

/// By rays that come from far outside and meet the faces by the kernel's intersections: true if the
/// first face that they meet is entered against its outward normal. Only rays that go in and out by
/// turns count; nothing if neither side gets a clear lead. Shares no code with the volume's
/// integral.
std::optional<bool> is_outward_by_rays(const TopoDS_Shape& shape);

enum class Sides {
    outward,
    inside_out,
    unclear  ///< the volume's sign and rays disagree
};

/// Of a closed body. A positive rough volume decides; a negative one must agree with rays before
/// anybody turns the body, else the volume is taken again in full, then by triangles.
Sides sides_of(const TopoDS_Shape& shape);

}  // namespace planform::model
