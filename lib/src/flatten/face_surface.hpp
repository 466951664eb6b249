#pragma once

/// The surface of a face in datum coordinates, with what is known about it in closed form.

#include <BRepAdaptor_Surface.hxx>
#include <GeomAbs_SurfaceType.hxx>
#include <TopoDS_Face.hxx>
#include <cmath>

#include "planform/geometry.hpp"

namespace planform::flatten {

/// Position and derivatives of a surface at (u, v).
struct SurfacePoint {
    Point3 position;
    Vector3 du, dv;
    Vector3 duu, dvv, duv;  ///< set by FaceSurface::second_order only
};

/// Notation: u, v parameters; frame origin O, unit axes X, Y, Z with Z = handed * X x Y;
/// R radius (cylinder, sphere), at v = 0 (cone), of the centre circle (torus); r tube radius;
/// a half angle of the cone.
class FaceSurface {
  public:
    explicit FaceSurface(const TopoDS_Face& face);

    GeomAbs_SurfaceType kind() const { return kind_; }
    const Point3& origin() const { return origin_; }
    const Vector3& x() const { return x_; }
    const Vector3& y() const { return y_; }
    const Vector3& z() const { return z_; }
    double handed() const { return handed_; }
    double radius() const { return radius_; }
    double tube_radius() const { return tube_radius_; }
    double half_angle() const { return half_angle_; }

    /// Parameter box of the face's own boundary.
    const Point2& low() const { return low_; }
    const Point2& high() const { return high_; }
    Vector2 range() const { return high_ - low_; }

    SurfacePoint first_order(const Point2& uv) const;
    SurfacePoint second_order(const Point2& uv) const;
    const TopoDS_Face& face() const { return adaptor_.Face(); }
    const BRepAdaptor_Surface& adaptor() const { return adaptor_; }

    /// cos u X + sin u Y.
    Vector3 radial(double u) const { return std::cos(u) * x_ + std::sin(u) * y_; }

  private:
    /// A torus tilted by less than this (rad) against its axis or its plane counts as not tilted: axes
    /// in files carry such noise, the slanted form of its folds is ill-conditioned there, and the
    /// outline moves by 1e-6 of the torus at most.
    static constexpr double straight_torus = 1e-6;
    void straighten();

    BRepAdaptor_Surface adaptor_;
    GeomAbs_SurfaceType kind_;
    Point3 origin_ = Point3::Zero();
    Vector3 x_ = Vector3::UnitX(), y_ = Vector3::UnitY(), z_ = Vector3::UnitZ();
    double handed_ = 1.0;
    double radius_ = 0.0, tube_radius_ = 0.0, half_angle_ = 0.0;
    Point2 low_, high_;
};

}  // namespace planform::flatten
