#include "offset/plain_width.hpp"

#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

namespace planform::offset_detail {
namespace {

/// Lengths that differ by less than this share of the contour's size, and angles by less (rad),
/// are the same.
constexpr double same = 1e-9;

NarrowPlace between(const Point2& a, const Point2& b) {
    NarrowPlace place;
    place.width = (b - a).norm();
    place.center = 0.5 * (a + b);
    place.touching = {a, b};
    return place;
}

Point2 middle(const Line& line) { return 0.5 * (line.start + line.end); }

/// Do two lines run against each other, end beside start?
bool face_each_other(const Line& a, const Line& b) {
    const Vector2 along = a.end - a.start, back = b.end - b.start;
    return (along + back).norm() <= same * along.norm() &&
           std::abs(along.dot(middle(b) - middle(a))) <= same * along.squaredNorm();
}

std::optional<NarrowPlace> as_circle(const Contour& contour) {
    if (!contour.is_circle() || !std::holds_alternative<Arc>(contour.curves().front()))
        return std::nullopt;
    const Arc& arc = std::get<Arc>(contour.curves().front());
    const Vector2 across(arc.radius, 0.0);
    NarrowPlace place = between(arc.center - across, arc.center + across);
    place.width = 2.0 * arc.radius;
    place.center = arc.center;
    return place;
}

std::optional<NarrowPlace> as_rectangle(const std::vector<Curve>& curves) {
    std::array<const Line*, 4> lines{};
    for (std::size_t i = 0; i < 4; ++i)
        if (!(lines[i] = std::get_if<Line>(&curves[i]))) return std::nullopt;
    if (!face_each_other(*lines[0], *lines[2]) || !face_each_other(*lines[1], *lines[3]))
        return std::nullopt;
    const bool is_first = length(curves[0]) >= length(curves[1]);
    return between(middle(*lines[is_first ? 0 : 1]), middle(*lines[is_first ? 2 : 3]));
}

/// Two lines that face each other, joined by half circles that bulge.
std::optional<NarrowPlace> as_slot(const std::vector<Curve>& curves) {
    const std::size_t first = curves[0].index() == 0 ? 0 : 1;
    const Line* a = std::get_if<Line>(&curves[first]);
    const Line* b = std::get_if<Line>(&curves[first + 2]);
    const Arc* head = std::get_if<Arc>(&curves[first + 1]);
    const Arc* tail = std::get_if<Arc>(&curves[(first + 3) % 4]);
    if (!a || !b || !head || !tail || !face_each_other(*a, *b)) return std::nullopt;
    const NarrowPlace place = between(middle(*a), middle(*b));
    for (const Arc* arc : {head, tail}) {
        const bool is_half = std::abs(std::abs(arc->sweep) - pi) <= same &&
                             std::abs(2.0 * arc->radius - place.width) <= same * place.width;
        if (!is_half) return std::nullopt;
    }
    // They bulge if their middles are further apart than their ends.
    const double longest = (point_at(*head, 0.5) - point_at(*tail, 0.5)).norm();
    if (longest < (a->end - a->start).norm() + 0.5 * place.width) return std::nullopt;
    return place;
}

}  // namespace

std::optional<NarrowPlace> plain_width(const Contour& contour) {
    if (std::optional<NarrowPlace> circle = as_circle(contour)) return circle;
    const std::vector<Curve>& curves = contour.curves();
    if (curves.size() != 4) return std::nullopt;
    if (std::optional<NarrowPlace> rectangle = as_rectangle(curves)) return rectangle;
    return as_slot(curves);
}

}  // namespace planform::offset_detail
