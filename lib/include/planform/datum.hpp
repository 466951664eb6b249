#pragma once

/// The plane that a solid is flattened onto.

#include <optional>

#include "planform/geometry.hpp"

namespace planform {

/// A right-handed, orthonormal frame in model space, in mm: the plane through `origin` spanned by
/// `x` and `y`, seen from the tip of `normal`. Orthonormal from construction on.
class Datum {
  public:
    /// Plane through `origin` with the given normal (any length > 0). `x` is made perpendicular to
    /// the normal; without it, the model's X axis is used (Y where X is the normal's direction).
    /// Throws GeometryError for NaN or infinite numbers, a zero normal, or x parallel to it.
    Datum(const Point3& origin, const Vector3& normal, std::optional<Vector3> x = std::nullopt);

    static Datum xy();  ///< x = X, y = Y, normal = Z: seen from above.
    static Datum xz();  ///< x = X, y = Z, normal = -Y: seen from the front.
    static Datum yz();  ///< x = Y, y = Z, normal = X: seen from the right.

    const Point3& origin() const { return origin_; }
    const Vector3& x() const { return x_; }
    const Vector3& y() const { return y_; }
    const Vector3& normal() const { return normal_; }

    /// Datum coordinates (x, y, height above the plane) of a point in model coordinates.
    Point3 to_datum(const Point3& model_point) const;
    /// Model coordinates of a point of the plane, lifted by `height` along the normal.
    Point3 to_model(const Point2& datum_point, double height = 0.0) const;
    /// The parallel plane, moved by `distance` along the normal.
    Datum moved(double distance) const;

    /// The same numbers.
    bool operator==(const Datum&) const = default;

  private:
    Point3 origin_;
    Vector3 x_, y_, normal_;
};

}  // namespace planform
