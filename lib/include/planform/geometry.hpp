#pragma once

/// Points, vectors, boxes and transforms. Lengths are millimetres, angles radians.

#include <Eigen/Core>
#include <Eigen/Geometry>

namespace planform {

using Point2 = Eigen::Vector2d;
using Vector2 = Eigen::Vector2d;
using Point3 = Eigen::Vector3d;
using Vector3 = Eigen::Vector3d;
using Box2 = Eigen::AlignedBox2d;
using Box3 = Eigen::AlignedBox3d;
/// A plane transform: x -> linear * x + translation.
using Transform2 = Eigen::Affine2d;
/// A space transform: x -> linear * x + translation.
using Transform3 = Eigen::Affine3d;

inline constexpr double pi = 3.14159265358979323846;

/// z component of the cross product of two plane vectors.
inline double cross(const Vector2& a, const Vector2& b) { return a.x() * b.y() - a.y() * b.x(); }

}  // namespace planform
