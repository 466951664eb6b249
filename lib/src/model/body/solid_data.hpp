#pragma once

/// What a planform::Solid holds: the kernel's shape and all that the file says about it.

#include <TopoDS_Shape.hxx>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "model/body/face_boundaries.hpp"
#include "model/body/shape_digest.hpp"
#include "model/measure/area_vectors.hpp"
#include "planform/model.hpp"

namespace planform::model {

/// Volume (mm^3), area (mm^2), area vectors and digest of a distinct shape; all its instances share
/// one, computed on the first call and safe from several threads.
class Mass {
  public:
    double volume(const TopoDS_Shape& shape) const;
    double surface_area(const TopoDS_Shape& shape) const;
    const AreaVectors& area_vectors(const TopoDS_Shape& shape) const;
    const ShapeDigest& digest(const TopoDS_Shape& shape) const;
    /// Does nothing if the digest is known.
    void adopt_digest(const ShapeDigest& digest) const;

  private:
    mutable std::once_flag volume_once_;
    mutable std::once_flag area_once_;
    mutable double volume_ = 0.0;
    mutable std::once_flag vectors_once_;
    mutable double area_ = 0.0;
    mutable AreaVectors vectors_;
    mutable std::once_flag digest_once_;
    mutable ShapeDigest digest_{};
};

/// One placed solid. Filled once while a model is built, read only from then on.
struct SolidData {
    /// The solid placed in the model, mm, orientation FORWARD. Instances of one distinct shape
    /// share the kernel's TShape and differ by location alone.
    TopoDS_Shape shape;
    std::string name;
    std::vector<std::string> path;
    std::optional<Color> color;
    std::vector<std::string> layers;
    Transform3 placement = Transform3::Identity();
    int shape_index = 0;
    int part = 0;
    std::string part_name;
    std::vector<std::string> notes;

    std::shared_ptr<const Mass> mass = std::make_shared<const Mass>();
    std::shared_ptr<const FaceBoundaries> boundaries = std::make_shared<const FaceBoundaries>();
    mutable std::once_flag bounds_once;
    mutable Box3 bounds;
};

}  // namespace planform::model
