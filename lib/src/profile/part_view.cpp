#include "planform/part_view.hpp"

#include <cmath>

#include "planform/error.hpp"

namespace planform {

namespace {

/// Sines of angles below this are rounding, rad: directions in files have few digits, and over the
/// length of a plate such a lean can't be seen.
constexpr double upright_within = 1e-4;

}  // namespace

std::string_view word_for(PartView view) {
    switch (view) {
        case PartView::top:
            return "top";
        case PartView::front:
            return "front";
        case PartView::right:
            return "right";
    }
    return "top";
}

std::optional<PartView> view_that_shows(const Vector3& outward) {
    const double length = outward.norm();
    if (!(length > 0.0) || !std::isfinite(length))
        throw GeometryError(ErrorKind::invalid_argument,
                            "a side's normal must be finite and longer than 0");
    const Vector3 unit = outward / length;
    const auto if_shown = [](bool is_shown, PartView view) {
        return is_shown ? std::optional(view) : std::nullopt;
    };
    if (std::abs(unit.z()) > upright_within) return if_shown(unit.z() > 0.0, PartView::top);
    if (std::abs(unit.y()) > upright_within) return if_shown(unit.y() < 0.0, PartView::front);
    return if_shown(unit.x() > 0.0, PartView::right);
}

Datum seen_from(const Vector3& up, const Transform3& part, const Point3& through) {
    const Vector3 x = part.linear().col(0).normalized(), y = part.linear().col(1).normalized();
    const Vector3 normal = Datum(through, up).normal();
    const bool has_x = (x - x.dot(normal) * normal).norm() > upright_within;
    return Datum(through, normal, has_x ? x : y);
}

}  // namespace planform
