#pragma once

/// The function on a face whose zero set is wanted: how it faces the viewer, or its height over the
/// datum.

#include <optional>
#include <vector>

#include "flatten/bounds/facing_bound.hpp"
#include "flatten/kinds/surface_kind.hpp"
#include "planform/geometry.hpp"
#include "solid/face_surface.hpp"

namespace planform::flatten {

class LevelField {
  public:
    explicit LevelField(const solid::FaceSurface& surface, int outward)
        : surface_(surface), kind_(kind_of(surface)), outward_(outward) {}
    virtual ~LevelField() = default;
    LevelField(const LevelField&) = delete;
    LevelField& operator=(const LevelField&) = delete;

    virtual double value(const Point2& uv) const = 0;
    virtual FieldValue with_gradient(const Point2& uv) const = 0;
    /// The zero set in closed form; nothing if the surface has none here and must be traced.
    virtual std::optional<std::vector<Branch>> branches() const = 0;

    const solid::FaceSurface& surface() const { return surface_; }
    const SurfaceKind& kind() const { return kind_; }
    int outward() const { return outward_; }
    /// Direction in (u, v) along the zero set with the positive side on the left, when the face is
    /// seen from outside the solid. Not normalised.
    Vector2 travel(const Vector2& gradient) const {
        return outward_ * Vector2(gradient.y(), -gradient.x());
    }

  private:
    const solid::FaceSurface& surface_;
    const SurfaceKind& kind_;
    int outward_;
};

/// z component of the outward normal: positive where the face looks at the viewer (see
/// SurfaceKind). Not normalised but for its sign; zero along the folds.
class FacingField final : public LevelField {
  public:
    FacingField(const solid::FaceSurface& surface, int outward);
    /// True if all normals are known to be across the view.
    bool is_edge_on() const { return kind().is_edge_on(surface()); }
    /// Which signs the field can have inside the face, by bounds over its parameter box.
    enum class Sign { positive, negative, unknown };
    /// Never wrong where it is not `unknown`: then the face has no folds. The box is drawn in a
    /// little (see InsetCurve::inset), since a face may end on a fold.
    Sign sign_of_whole() const;
    double value(const Point2& uv) const override {
        return kind().facing(surface(), outward(), uv);
    }
    FieldValue with_gradient(const Point2& uv) const override {
        return kind().facing_with_gradient(surface(), outward(), uv);
    }
    std::optional<std::vector<Branch>> branches() const override { return kind().folds(surface()); }
    /// Polynomial bounds on the field inside the face, if it is a spline (positive factors and
    /// outward() left out); else empty.
    const FacingBound& bound() const { return bound_; }
    /// The parameter along which the surface is extruded: the field changes across it alone.
    std::optional<Parameter> extruded_along() const {
        const std::optional<Parameter> along = kind().extruded_along();
        return along ? along : bound_.extruded_along;
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
    std::optional<std::vector<Branch>> branches() const override {
        return kind().section(surface(), level_);
    }

  private:
    double level_;
};

}  // namespace planform::flatten
