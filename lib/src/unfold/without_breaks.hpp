#pragma once

#include <TopoDS_Shape.hxx>
#include <optional>
#include <vector>

#include "unfold/sheet_body.hpp"

namespace planform::unfolding {

/// The shape without some faces (by index), their neighbours prolonged until they meet: the sheet
/// before its edges were rounded or chamfered. Nothing if the kernel can't.
std::optional<TopoDS_Shape> without_faces(const TopoDS_Shape& shape, const SheetBody& body,
                                          const std::vector<int>& faces);

}  // namespace planform::unfolding
