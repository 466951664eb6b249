#pragma once

/// Is a place in the parameters of a face inside the face?

#include <BRepTopAdaptor_FClass2d.hxx>
#include <optional>
#include <vector>

#include "solid/face_surface.hpp"

namespace planform::solid {

/// The kernel's classifier, made when it is first asked. It takes the curves of the boundary as
/// they are in the file; where some of them had to be moved by a period (unwrap_boundary), a
/// polygon along the boundary is asked instead.
class FaceInterior {
  public:
    /// `tolerance` in parameters: places nearer to the boundary are not inside.
    FaceInterior(const FaceSurface& surface, double tolerance)
        : surface_(surface), tolerance_(tolerance) {}

    bool holds(const Point2& uv);

  private:
    bool is_in_polygon(const Point2& uv);

    const FaceSurface& surface_;
    double tolerance_;
    std::optional<BRepTopAdaptor_FClass2d> classifier_;
    std::vector<Point2> legs_;  ///< start and end of each straight piece of the boundary
};

}  // namespace planform::solid
