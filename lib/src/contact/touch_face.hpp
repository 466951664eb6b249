#pragma once

/// A face of a placed solid, with what the search for contacts asks of it.

#include <TopoDS_Face.hxx>
#include <memory>
#include <optional>
#include <vector>

#include "features/face_view.hpp"
#include "model/measure/planar_face.hpp"
#include "planform/geometry.hpp"
#include "planform/model.hpp"
#include "solid/face_lean.hpp"
#include "solid/section_solid.hpp"

namespace planform::contact {

/// Model coordinates, mm. What costs is made when it is first asked for.
class TouchFace {
  public:
    TouchFace(TopoDS_Face face, int number);

    const TopoDS_Face& face() const { return face_; }
    int number() const { return number_; }
    /// Holds the face; not always tight.
    const Box3& box() const { return box_; }
    /// The plane of a planar face.
    const std::optional<model::Plane>& plane() const;
    /// The closed form of the surface, if it has one, and where it lies.
    const features::FaceView& view() const;
    /// Places inside the face, evenly over its parameters.
    const std::vector<solid::FaceSample>& samples() const;
    const solid::FaceSurface& surface() const { return solid().surface(0); }
    /// 1: the normal out of the solid is that of the surface; -1: against it.
    int outward() const { return solid().graph().faces[0].outward; }
    /// mm^2, by the kernel.
    double area() const;

  private:
    const solid::SectionSolid& solid() const;

    TopoDS_Face face_;
    int number_;
    Box3 box_;
    mutable std::optional<std::optional<model::Plane>> plane_;
    mutable std::shared_ptr<solid::SectionSolid> solid_;  ///< of the one face
    mutable std::optional<features::FaceView> view_;
    mutable std::optional<std::vector<solid::FaceSample>> samples_;
    mutable std::optional<double> area_;
};

/// All faces of a solid, in the order of their numbers.
std::vector<TouchFace> touch_faces(const Solid& solid);

}  // namespace planform::contact
