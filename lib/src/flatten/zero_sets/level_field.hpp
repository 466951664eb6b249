#pragma once

/// The function on a face whose zero set is wanted: how it faces the viewer, or its height over the
/// datum.

#include <optional>
#include <vector>

#include "flatten/bounds/facing_bound.hpp"
#include "planform/geometry.hpp"
#include "solid/face_surface.hpp"

namespace planform::flatten {

struct Branch;

/// Value and gradient with respect to (u, v).
struct FieldValue {
    double value;
    Vector2 gradient;
};

class LevelField {
  public:
    explicit LevelField(const solid::FaceSurface& surface, int outward)
        : surface_(surface), outward_(outward) {}
    virtual ~LevelField() = default;
    LevelField(const LevelField&) = delete;
    LevelField& operator=(const LevelField&) = delete;

    virtual double value(const Point2& uv) const = 0;
    virtual FieldValue with_gradient(const Point2& uv) const = 0;
    /// The zero set in closed form; nothing if the surface has none here and must be traced.
    virtual std::optional<std::vector<Branch>> branches() const = 0;

    const solid::FaceSurface& surface() const { return surface_; }
    int outward() const { return outward_; }
    /// Direction in (u, v) along the zero set with the positive side on the left, when the face is
    /// seen from outside the solid. Not normalised.
    Vector2 travel(const Vector2& gradient) const {
        return outward_ * Vector2(gradient.y(), -gradient.x());
    }

  private:
    const solid::FaceSurface& surface_;
    int outward_;
};

/// z component of the outward normal: positive where the face looks at the viewer. Not normalised
/// but for its sign; zero along the folds.
///
/// Walls seen edge-on give noise about zero; they count as facing away: free-form surfaces count as
/// facing the viewer from an angle of `edge_on` rad on. (The closed forms need no such margin, but
/// for surfaces that are edge-on as a whole, see is_edge_on.)
class FacingField final : public LevelField {
  public:
    static constexpr double edge_on = 1e-9;

    FacingField(const solid::FaceSurface& surface, int outward);
    /// True for a plane or cylinder whose normals are all across the view.
    bool is_edge_on() const;
    /// Which signs the field can have inside the face, by bounds over its parameter box.
    enum class Sign { positive, negative, unknown };
    /// Never wrong where it is not `unknown`: then the face has no folds. The box is drawn in a
    /// little (see InsetCurve::inset), since a face may end on a fold.
    Sign sign_of_whole() const;
    double value(const Point2& uv) const override;
    FieldValue with_gradient(const Point2& uv) const override;
    std::optional<std::vector<Branch>> branches() const override;
    /// Polynomial bounds on the field inside the face, if it is a spline (positive factors and
    /// outward() left out); else empty.
    const FacingBound& bound() const { return bound_; }
    /// The parameter along which the surface is extruded: the field changes across it alone.
    std::optional<Parameter> extruded_along() const {
        if (surface().kind() == GeomAbs_SurfaceOfExtrusion) return Parameter::v;
        return bound_.extruded_along;
    }

  private:
    FacingBound bound_;
};

/// Height over the plane that lies `level` mm above the datum: zero along the section.
class HeightField final : public LevelField {
  public:
    HeightField(const solid::FaceSurface& surface, int outward, double level)
        : LevelField(surface, outward), level_(level) {}
    double level() const { return level_; }
    double value(const Point2& uv) const override;
    FieldValue with_gradient(const Point2& uv) const override;
    std::optional<std::vector<Branch>> branches() const override;

  private:
    double level_;
};

}  // namespace planform::flatten
