#pragma once

/// The breach of the law of cover.

#include <string>

#include "flatten/proof/shadow_cover.hpp"
#include "planform/error.hpp"

namespace planform::flatten {

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

}  // namespace planform::flatten
