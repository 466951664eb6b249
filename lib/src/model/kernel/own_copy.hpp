#pragma once

#include <TopoDS_Shape.hxx>

namespace planform::model {

/// A copy to be handed to booleans, to what takes faces away and to what joins them: the kernel
/// puts curves of its own into the edges that it is given, opens surfaces at other places and
/// widens tolerances, and a solid of a caller has to stay as it is. Shares no geometry with the
/// shape, has no meshes, and lists faces and edges in the shape's order. Throws as the kernel does.
TopoDS_Shape own_copy(const TopoDS_Shape& shape);

}  // namespace planform::model
