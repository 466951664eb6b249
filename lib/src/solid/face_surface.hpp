#pragma once

/// The surface of a face in datum coordinates, with what is known about it in closed form.

#include <GeomAbs_SurfaceType.hxx>
#include <GeomAdaptor_Surface.hxx>
#include <TopoDS_Face.hxx>
#include <cmath>
#include <memory>
#include <optional>
#include <vector>

#include "model/body/face_boundaries.hpp"
#include "planform/geometry.hpp"
#include "solid/shape_graph.hpp"

namespace planform::solid {

/// Position and derivatives of a surface at (u, v).
struct SurfacePoint {
    Point3 position;
    Vector3 du, dv;
    Vector3 duu, dvv, duv;  ///< set by FaceSurface::second_order only
};

using model::FaceBoundary;
using model::ParameterCurve;

/// Notation: u, v parameters; frame origin O, unit axes X, Y, Z with Z = handed * X x Y;
/// R radius (cylinder, sphere), at v = 0 (cone), of the centre circle (torus); r tube radius;
/// a half angle of the cone.
class FaceSurface {
  public:
    /// `placement`: from the coordinates of the face's shape to those of the datum
    /// (ShapeGraph::placement). The boundary is read unless the face has it.
    FaceSurface(const GraphFace& face, const gp_Trsf& placement);

    GeomAbs_SurfaceType kind() const { return kind_; }
    /// Plane, cylinder, cone, sphere or torus.
    bool is_closed_form() const { return is_closed_form_; }
    bool is_plane() const { return kind_ == GeomAbs_Plane; }
    /// Made of straight lines u = const, along each of which the normal keeps its direction.
    bool is_ruled() const {
        return is_plane() || kind_ == GeomAbs_Cylinder || kind_ == GeomAbs_Cone ||
               kind_ == GeomAbs_SurfaceOfExtrusion;
    }
    /// Sphere or torus: both parameters are angles.
    bool is_round_both_ways() const { return kind_ == GeomAbs_Sphere || kind_ == GeomAbs_Torus; }
    const Point3& origin() const { return origin_; }
    const Vector3& x() const { return x_; }
    const Vector3& y() const { return y_; }
    const Vector3& z() const { return z_; }
    double handed() const { return handed_; }
    double radius() const { return radius_; }
    double tube_radius() const { return tube_radius_; }
    double half_angle() const { return half_angle_; }

    /// One curve a use of the face, in their order; none for a plane, which needs no parameters.
    const std::vector<ParameterCurve>& boundary() const { return boundary_->curves; }
    std::shared_ptr<const FaceBoundary> shared_boundary() const { return boundary_; }
    /// True if curves of the boundary were moved by whole periods: the kernel's own questions about
    /// the face's parameters then go wrong.
    bool is_unwrapped() const { return boundary_->is_unwrapped; }
    /// Parameter box of the face's own boundary.
    const Point2& low() const { return boundary_->low; }
    const Point2& high() const { return boundary_->high; }
    Vector2 range() const { return high() - low(); }

    /// The place alone, which the derivatives may round otherwise.
    Point3 position(const Point2& uv) const;
    SurfacePoint first_order(const Point2& uv) const;
    SurfacePoint second_order(const Point2& uv) const;
    const TopoDS_Face& face() const { return face_->shape; }
    /// The kernel's surface, not placed in datum coordinates: for its structure (poles, periods).
    const GeomAdaptor_Surface& adaptor() const { return adaptor_; }
    /// From the kernel's surface to datum coordinates.
    const gp_Trsf& placement() const { return placement_; }

    /// cos u X + sin u Y.
    Vector3 radial(double u) const { return std::cos(u) * x_ + std::sin(u) * y_; }
    /// Of a surface of revolution in closed form: how far from its axis and how high on it the
    /// surface is at v, and how both change with v.
    struct Meridian {
        double radius, height, radius_slope, height_slope;
    };
    Meridian meridian(double v) const;

  private:
    /// A torus tilted by less than this (rad) against its axis or its plane counts as not tilted:
    /// axes in files carry such noise, the slanted form of its folds is ill-conditioned there, and
    /// the outline moves by 1e-6 of the torus at most.
    static constexpr double straight_torus = 1e-6;
    void straighten();
    void set_frame(const gp_Ax3& frame);
    void read_surface(const gp_Trsf& placement);
    FaceBoundary read_boundary() const;
    void set_box(FaceBoundary& boundary) const;
    Point3 placed(const gp_Pnt& p) const;
    Vector3 turned(const gp_Vec& v) const;

    const GraphFace* face_;
    GeomAdaptor_Surface adaptor_;
    gp_Trsf placement_;  ///< from the kernel's surface to datum coordinates
    bool is_closed_form_ = false;
    GeomAbs_SurfaceType kind_ = GeomAbs_OtherSurface;
    std::shared_ptr<const FaceBoundary> boundary_;
    Point3 origin_ = Point3::Zero();
    Vector3 x_ = Vector3::UnitX(), y_ = Vector3::UnitY(), z_ = Vector3::UnitZ();
    double handed_ = 1.0;
    double radius_ = 0.0, tube_radius_ = 0.0, half_angle_ = 0.0;
};

/// For a plane: the z component, in datum coordinates, of its unit normal out of the solid; nothing
/// for other surfaces. Most faces are planes, and no more is asked of most of them.
std::optional<double> plane_facing(const GraphFace& face, const gp_Trsf& placement);

/// True for a cylinder whose axis is within so many radians of the view: the wall of a hole, the
/// most frequent face of plates after planes. Nothing of its boundary is read.
bool is_upright_cylinder(const GraphFace& face, const gp_Trsf& placement, double within);

}  // namespace planform::solid
