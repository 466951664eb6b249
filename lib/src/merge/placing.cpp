#include "merge/placing.hpp"

#include <cmath>

#include "planform/error.hpp"

namespace planform::merge {
namespace {

/// Sine of the angle between normals up to which planes count as parallel: 1e-7 mm, the confusion
/// of common solid modellers, over 100 mm.
constexpr double parallel = 1e-9;
/// Frames that agree so well are one: the rounding of unit vectors and of coordinates of 100 mm.
constexpr double same_direction = 1e-15;
constexpr double same_origin = 1e-13;

/// From coordinates on one plane to those on the other.
Transform2 between(const Datum& from, const Datum& to) {
    Transform2 transform;
    transform.linear() << to.x().dot(from.x()), to.x().dot(from.y()), to.y().dot(from.x()),
        to.y().dot(from.y());
    transform.translation() = to.to_datum(from.origin()).head<2>();
    return transform;
}

bool is_identity(const Transform2& transform, double size) {
    return (transform.linear() - Eigen::Matrix2d::Identity()).cwiseAbs().maxCoeff() <=
               same_direction &&
           transform.translation().cwiseAbs().maxCoeff() <= same_origin * std::max(1.0, size);
}

}  // namespace

ProfileSet placed_on(const ProfileSet& set, const Datum& datum) {
    const Vector3 normal = set.datum().normal();
    if (normal.dot(datum.normal()) < 0.0 || normal.cross(datum.normal()).norm() > parallel)
        throw GeometryError(ErrorKind::invalid_argument,
                            "the profile sets lie on planes that are not parallel or face each "
                            "other; give one the datum of the other (with_datum) to go by "
                            "coordinates");
    const Transform2 transform = between(set.datum(), datum);
    if (is_identity(transform, datum.origin().norm())) return set.with_datum(datum);
    return set.transformed(transform).with_datum(datum);
}

}  // namespace planform::merge
