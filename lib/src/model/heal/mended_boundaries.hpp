#pragma once

/// Boundaries of faces that go twice round their surface, or to and fro by whole periods.

#include <TopoDS_Shape.hxx>

namespace planform::model {

/// The body with the boundary of each face on a periodic surface in one piece. Files, and the
/// kernel's healing, leave curves in a face's parameters a period away from each other, or bridge
/// such a gap by an edge that is marked as a pole where the surface has none; the kernel then
/// integrates over the face twice. Curves in space stay as they are. The body itself if nothing is
/// wrong with it, else a copy.
TopoDS_Shape with_mended_boundaries(const TopoDS_Shape& body);

}  // namespace planform::model
