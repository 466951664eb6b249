#include "planform/datum.hpp"

#include <cmath>
#include <string>

#include "planform/error.hpp"

namespace planform {
namespace {

/// Sine of the angle below which two directions count as parallel.
constexpr double parallel_sine = 1e-6;

void require_finite(const Vector3& vector, const char* argument) {
    if (vector.allFinite()) return;
    throw GeometryError(ErrorKind::invalid_argument, std::string("datum: ") + argument +
                                                         " has a coordinate that is not a "
                                                         "finite number");
}

/// Rounding within which a frame counts as orthonormal already and is taken as it is, so that a
/// datum made of another's origin, normal and x (read from a file, say) is the same to the bit.
constexpr double frame_rounding = 1e-15;

/// Unit vector, also for lengths whose square is out of range. Adding zero turns -0 into 0, so that
/// equal datums are equal to the bit.
Vector3 unit(const Vector3& vector, const char* argument) {
    const double largest = vector.cwiseAbs().maxCoeff();
    if (!(largest > 0.0))
        throw GeometryError(ErrorKind::invalid_argument,
                            std::string("datum: ") + argument + " has length zero");
    if (std::abs(vector.squaredNorm() - 1.0) <= frame_rounding) return vector + Vector3::Zero();
    return (vector / largest).normalized() + Vector3::Zero();
}

/// The part of `direction` (unit) that is perpendicular to `normal` (unit), not normalised. Twice,
/// as the first difference carries the rounding of the larger part (Gram-Schmidt with
/// reorthogonalisation).
Vector3 perpendicular_part(const Vector3& direction, const Vector3& normal) {
    if (std::abs(direction.dot(normal)) <= frame_rounding) return direction;
    const Vector3 once = direction - direction.dot(normal) * normal;
    return once - once.dot(normal) * normal;
}

}  // namespace

Datum::Datum(const Point3& origin, const Vector3& normal, std::optional<Vector3> x)
    : origin_(origin) {
    require_finite(origin, "origin");
    require_finite(normal, "normal");
    normal_ = unit(normal, "normal");
    if (x) {
        require_finite(*x, "x");
        const Vector3 part = perpendicular_part(unit(*x, "x"), normal_);
        if (part.norm() <= parallel_sine)
            throw GeometryError(ErrorKind::invalid_argument, "datum: x is parallel to the normal");
        x_ = unit(part, "x");
    } else {
        Vector3 part = perpendicular_part(Vector3::UnitX(), normal_);
        if (part.norm() <= parallel_sine) part = perpendicular_part(Vector3::UnitY(), normal_);
        x_ = unit(part, "x");
    }
    // A small part keeps too few digits of perpendicularity until it has been scaled up.
    x_ = unit(perpendicular_part(x_, normal_), "x");
    y_ = unit(normal_.cross(x_), "y");
}

Datum Datum::xy() { return Datum(Point3::Zero(), Vector3::UnitZ(), Vector3::UnitX()); }

Datum Datum::xz() { return Datum(Point3::Zero(), -Vector3::UnitY(), Vector3::UnitX()); }

Datum Datum::yz() { return Datum(Point3::Zero(), Vector3::UnitX(), Vector3::UnitY()); }

Point3 Datum::to_datum(const Point3& model_point) const {
    const Vector3 offset = model_point - origin_;
    return {offset.dot(x_), offset.dot(y_), offset.dot(normal_)};
}

Point3 Datum::to_model(const Point2& datum_point, double height) const {
    return origin_ + datum_point.x() * x_ + datum_point.y() * y_ + height * normal_;
}

Datum Datum::moved(double distance) const {
    if (!std::isfinite(distance))
        throw GeometryError(ErrorKind::invalid_argument,
                            "datum: the distance is not a finite number");
    Datum result = *this;
    result.origin_ += distance * normal_;
    return result;
}

}  // namespace planform
