#pragma once

/// The narrow strips between edges in space and their images on a face's surface.

#include <TopAbs_Orientation.hxx>
#include <TopoDS_Shape.hxx>
#include <algorithm>
#include <cmath>

#include "planform/geometry.hpp"

namespace planform::model {

/// Edges that lie inside a face bound nothing.
inline bool bounds_material(const TopoDS_Shape& edge) {
    return edge.Orientation() == TopAbs_FORWARD || edge.Orientation() == TopAbs_REVERSED;
}

/// Sums up the strips along the boundary of one face. With e on the edge, q on the surface and g =
/// e - q the ruled strip makes a cone of the integral of q . (g x (q' + e') / 2) / 3 dt from the
/// apex, to which all places are relative, and a vector area of half the integral of e x e' - q x
/// q'.
class Strips {
  public:
    /// One place; `weight` is negative where the boundary runs against the edge.
    void add(double weight, const Vector3& e, const Vector3& e_speed, const Vector3& q,
             const Vector3& q_speed) {
        const Vector3 gap = e - q;
        cone_ += weight * q.dot(gap.cross(q_speed + e_speed)) / 6.0;
        along_edges_ += weight * 0.5 * e.cross(e_speed);
        along_images_ += weight * 0.5 * q.cross(q_speed);
        length_ += std::abs(weight) * e_speed.norm();
    }
    /// After all places of an edge of the given tolerance, mm.
    void end_edge(double tolerance) {
        allowed_ += allowed_tolerances * tolerance * (length_ - length_before_);
        length_before_ = length_;
    }

    double cone() const { return cone_; }
    Vector3 vector_area() const { return along_edges_ - along_images_; }
    /// What no tolerance explains of the difference between the vector area within the edges and
    /// one found inside the face: Stokes' theorem wants none.
    double unexplained(const Vector3& inside) const {
        const double allowed = allowed_ + allowed_share * length_ * length_;
        return std::max(0.0, (along_edges_ - inside).norm() - allowed);
    }

  private:
    /// The vector area may differ by so many tolerances of an edge times its length ...
    static constexpr double allowed_tolerances = 4.0;
    /// ... and by this part of the square of the boundary's length.
    static constexpr double allowed_share = 1e-5;

    double cone_ = 0.0;
    Vector3 along_edges_ = Vector3::Zero(), along_images_ = Vector3::Zero();
    double length_ = 0.0, length_before_ = 0.0, allowed_ = 0.0;
};

}  // namespace planform::model
