/// Winding numbers: those of the polygon of the chords, and of each circular segment between an arc
/// and its chord in which the point lies one more or less.

#include "layout/inside.hpp"

#include <algorithm>
#include <cmath>

namespace planform::layout {
namespace {

/// Half-open in y, so that a ray through a vertex counts once.
int turns_of_edge(const Point2& a, const Point2& b, const Point2& point) {
    if ((a.y() <= point.y()) == (b.y() <= point.y())) return 0;
    const double side = cross(b - a, point - a);
    if (a.y() <= point.y()) return side > 0.0 ? 1 : 0;
    return side < 0.0 ? -1 : 0;
}

/// Of a piece of an arc of at most a half turn.
int turns_of_segment(const Arc& arc, const Point2& start, const Point2& end, const Point2& point) {
    if ((point - arc.center).squaredNorm() >= arc.radius * arc.radius) return 0;
    const double side = cross(end - start, point - start);
    if (arc.sweep > 0.0) return side < 0.0 ? 1 : 0;
    return side > 0.0 ? -1 : 0;
}

int turns_of_arc(const Arc& arc, const Point2& point) {
    const int pieces = std::abs(arc.sweep) > 0.99 * pi ? 3 : 1;
    int turns = 0;
    // The ends of neighbours are the same to the last digit, or a ray between them counts wrongly.
    Point2 start = point_at(arc, 0.0);
    for (int i = 0; i < pieces; ++i) {
        const Point2 end = point_at(arc, (i + 1.0) / pieces);
        turns += turns_of_edge(start, end, point) + turns_of_segment(arc, start, end, point);
        start = end;
    }
    return turns;
}

int turns_of_curve(const Curve& curve, const Point2& point, double distance) {
    if (const auto* line = std::get_if<Line>(&curve))
        return turns_of_edge(line->start, line->end, point);
    if (const auto* arc = std::get_if<Arc>(&curve)) return turns_of_arc(*arc, point);
    int turns = 0;
    const std::vector<Point2> vertices = points(curve, distance / 2.0);
    for (std::size_t i = 1; i < vertices.size(); ++i)
        turns += turns_of_edge(vertices[i - 1], vertices[i], point);
    return turns;
}

}  // namespace

int winding(const Contour& contour, const Point2& point, double distance) {
    int turns = 0;
    const std::vector<Curve>& curves = contour.curves();
    for (std::size_t i = 0; i < curves.size(); ++i) {
        turns += turns_of_curve(curves[i], point, distance);
        // The gap to the next, of rounding.
        turns += turns_of_edge(end_point(curves[i]), start_point(curves[(i + 1) % curves.size()]),
                               point);
    }
    return turns;
}

bool is_material(const Profile& profile, const Point2& point, double distance) {
    if (!profile.outer().bounds().contains(point) || winding(profile.outer(), point, distance) == 0)
        return false;
    return std::none_of(profile.holes().begin(), profile.holes().end(), [&](const Contour& hole) {
        return hole.bounds().contains(point) && winding(hole, point, distance) != 0;
    });
}

bool is_material(const ProfileSet& set, const Point2& point, double distance) {
    return std::any_of(set.profiles().begin(), set.profiles().end(), [&](const Profile& profile) {
        return is_material(profile, point, distance);
    });
}

}  // namespace planform::layout
