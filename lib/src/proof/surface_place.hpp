#pragma once

/// A place of a solid's surface, and the breach of the law of cover there.

#include <string>

#include "planform/error.hpp"
#include "planform/geometry.hpp"

namespace planform::proof {

/// A place of the surface, projected onto the datum, and whose it is.
struct SurfacePlace {
    Point2 place;
    int solid;  ///< index in the call
    int face;   ///< number in the solid
};

/// A place of a face that lies outside the shadow: the face was split wrongly, and may be split in
/// another way.
class PlaceNotCovered : public GeometryError {
  public:
    PlaceNotCovered(const std::string& message, const SurfacePlace& place)
        : GeometryError(ErrorKind::law_broken, message), place_(place) {}
    const SurfacePlace& place() const { return place_; }

  private:
    SurfacePlace place_;
};

}  // namespace planform::proof
