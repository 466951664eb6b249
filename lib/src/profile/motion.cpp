#include "planform/motion.hpp"

#include <cmath>

#include "planform/error.hpp"

namespace planform {

namespace {

void require_finite(const Vector2& vector, const char* what) {
    if (!vector.allFinite())
        throw GeometryError(ErrorKind::invalid_argument,
                            std::string(what) + " is not finite; pass two finite numbers (mm)");
}

Transform2 about(const Point2& place, const Eigen::Matrix2d& linear) {
    Transform2 motion = Transform2::Identity();
    motion.linear() = linear;
    motion.translation() = place - linear * place;
    return motion;
}

std::vector<Mark> deepened(const std::vector<Mark>& marks, double factor) {
    std::vector<Mark> result;
    result.reserve(marks.size());
    for (const Mark& mark : marks)
        result.push_back(mark.is_closed()
                             ? Mark(mark.contour(), mark.name(), factor * mark.depth())
                             : Mark::open(mark.curves(), mark.name(), factor * mark.depth()));
    return result;
}

Proof scaled(const Proof& proof, double factor) {
    Proof result;
    for (const ProvenLaw& law : proof.laws())
        result.add(law.name, law.checks, factor * law.largest_deviation);
    return result;
}

}  // namespace

ProfileSet moved(const ProfileSet& set, const Vector2& by) {
    require_finite(by, "what the outline is moved by");
    return set.transformed(Transform2(Eigen::Translation2d(by)));
}

ProfileSet rotated(const ProfileSet& set, double angle, const Point2& place) {
    if (!std::isfinite(angle))
        throw GeometryError(ErrorKind::invalid_argument, "the angle is not finite; pass radians");
    require_finite(place, "the place that the outline is turned about");
    return set.transformed(about(place, Eigen::Rotation2Dd(angle).toRotationMatrix()));
}

ProfileSet mirrored(const ProfileSet& set, const Point2& first, const Point2& second) {
    require_finite(first, "a point of the axis");
    require_finite(second, "a point of the axis");
    const double distance = (second - first).norm();
    if (!(distance > 0.0) || !std::isfinite(distance))
        throw GeometryError(ErrorKind::invalid_argument,
                            "the axis goes through two points that are one; pass different ones");
    const Vector2 along = (second - first) / distance;
    return set.transformed(
        about(first, 2.0 * along * along.transpose() - Eigen::Matrix2d::Identity()));
}

ProfileSet scaled(const ProfileSet& set, double factor, const Point2& place) {
    if (!std::isfinite(factor) || !(factor > 0.0))
        throw GeometryError(
            ErrorKind::invalid_argument,
            "the factor is no finite number above 0; mirrored() turns outlines over");
    require_finite(place, "the place that the outline is scaled about");
    const ProfileSet larger = set.transformed(about(place, factor * Eigen::Matrix2d::Identity()));
    return ProfileSet(larger.profiles(), deepened(larger.marks(), factor), set.datum(),
                      factor * set.tolerance(), set.name(), set.notes(), Validate::no)
        .with_proof(scaled(set.proof(), factor))
        .with_data(set.data());
}

}  // namespace planform
