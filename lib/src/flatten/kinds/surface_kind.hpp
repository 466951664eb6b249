#pragma once

/// What is known of a kind of surface in closed form, one file a kind: how it faces the viewer,
/// where it folds, and what a plane across the view cuts from it. What nothing is said about is
/// asked of the surface point by point, its folds and sections are traced.

#include <optional>
#include <vector>

#include "flatten/bounds/range.hpp"
#include "flatten/bounds/spline_direction.hpp"
#include "flatten/kinds/branch.hpp"
#include "planform/geometry.hpp"
#include "solid/face_surface.hpp"

namespace planform::flatten {

/// Value and gradient with respect to (u, v) of a function on a face.
struct FieldValue {
    double value;
    Vector2 gradient;
};

/// Walls seen edge-on give noise about zero; they count as facing away: surfaces that are not in
/// closed form count as facing the viewer from an angle of so many rad on.
inline constexpr double edge_on = 1e-9;

/// "Facing": the z component, in datum coordinates, of the normal on the side that du x dv shows,
/// positive factors left out; for a surface that is not in closed form, less `edge_on`. `outward`
/// as in GraphFace turns it out of the solid. Heights are those over the datum, in mm.
class SurfaceKind {
  public:
    SurfaceKind() = default;
    virtual ~SurfaceKind() = default;
    SurfaceKind(const SurfaceKind&) = delete;
    SurfaceKind& operator=(const SurfaceKind&) = delete;

    virtual double facing(const solid::FaceSurface& surface, int outward, const Point2& uv) const;
    /// The gradient may leave out what vanishes on the folds.
    virtual FieldValue facing_with_gradient(const solid::FaceSurface& surface, int outward,
                                            const Point2& uv) const;
    /// Holds all values of facing within a box of parameters; nothing if no bound is known.
    virtual std::optional<Range> facing_range(const solid::FaceSurface& surface, int outward,
                                              const Box2& box) const;
    /// True if all normals are across the view.
    virtual bool is_edge_on(const solid::FaceSurface& surface) const;
    /// The parameter along which the surface is extruded, if it says so itself: it faces the viewer
    /// the same way all along.
    virtual std::optional<Parameter> extruded_along() const;
    /// The folds; nothing if they must be traced.
    virtual std::optional<std::vector<Branch>> folds(const solid::FaceSurface& surface) const;

    /// The section at a height; nothing if it must be traced.
    virtual std::optional<std::vector<Branch>> section(const solid::FaceSurface& surface,
                                                       double level) const;
    /// Places on a section that must be traced, one or more on each loop that touches no boundary
    /// of the face; nothing if they must be searched for.
    virtual std::optional<std::vector<Point2>> section_seeds(const solid::FaceSurface& surface,
                                                             double level) const;
    /// True if a plane at this height runs along a line of the surface, within `depth`, from one
    /// end of the face to the other.
    virtual bool touches_along_line(const solid::FaceSurface& surface, double level,
                                    double depth) const;
};

const SurfaceKind& plane_kind();
const SurfaceKind& cylinder_kind();
const SurfaceKind& cone_kind();
const SurfaceKind& sphere_kind();
const SurfaceKind& torus_kind();
const SurfaceKind& extrusion_kind();
const SurfaceKind& revolution_kind();
/// Splines, and whatever has no file of its own.
const SurfaceKind& free_form_kind();

/// The kind of a surface.
const SurfaceKind& kind_of(const solid::FaceSurface& surface);

}  // namespace planform::flatten
