#include "contact/outline_walls.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>

namespace planform::contact {
namespace {

/// A wall whose normal leans less against the datum (sine) stands upright: over a thickness of
/// 10 mm that is `touching_within`.
constexpr double upright = 1e-4;
/// Cosine of the angle within which the wall's normal is that of the curve.
constexpr double same_direction = 0.99;
/// Directions of two curves that go on from each other along one line: sine of the angle.
constexpr double straight_on = 1e-6;

/// The outline's curves have the material on their left.
Vector2 right_of(const Vector2& tangent) {
    return Vector2(tangent.y(), -tangent.x()) / tangent.norm();
}

/// Do two neighbours lie on one line or circle?
bool go_on(const Curve& first, const Curve& second, double near) {
    if (const auto* a = std::get_if<Line>(&first), *b = std::get_if<Line>(&second); a && b) {
        const Vector2 u = (a->end - a->start).normalized(), v = (b->end - b->start).normalized();
        return std::abs(cross(u, v)) < straight_on && u.dot(v) > 0.0;
    }
    if (const auto* a = std::get_if<Arc>(&first), *b = std::get_if<Arc>(&second); a && b)
        return (a->center - b->center).norm() < near && std::abs(a->radius - b->radius) < near &&
               a->sweep * b->sweep > 0.0;
    return false;
}

}  // namespace

OutlineWalls::OutlineWalls(const ProfileSet& outline, double within)
    : datum_(outline.datum()), near_(outline.tolerance() + within), within_(within) {
    int number = 0;
    for (const Profile& profile : outline.profiles()) {
        add(profile.outer(), number, 0);
        int hole = 0;
        for (const Contour& contour : profile.holes()) add(contour, number, ++hole);
        ++number;
    }
}

void OutlineWalls::add(const Contour& contour, int profile, int number) {
    const std::size_t first = curves_.size();
    int index = 0;
    for (const Curve& curve : contour.curves()) {
        Box2 box = bounds(curve);
        box.extend(Point2(box.min() - Vector2::Constant(near_)));
        box.extend(Point2(box.max() + Vector2::Constant(near_)));
        curves_.push_back({curve, {profile, number, index++}, box, count()});
    }
    join_runs(first);
}

/// Gives the curves of a contour, which starts at `first`, the numbers of their runs.
void OutlineWalls::join_runs(std::size_t first) {
    const std::size_t size = curves_.size() - first;
    for (std::size_t i = 1; i < size; ++i) {
        Wall &wall = curves_[first + i], &before = curves_[first + i - 1];
        if (go_on(before.curve, wall.curve, near_)) wall.run = before.run;
    }
    // The last run may go on with the first.
    if (size < 2 || !go_on(curves_.back().curve, curves_[first].curve, near_)) return;
    const int last = curves_.back().run, start = curves_[first].run;
    for (std::size_t i = 0; i < size; ++i)
        if (curves_[first + i].run == last) curves_[first + i].run = start;
}

std::optional<Vector2> OutlineWalls::outward(const Vector3& normal) const {
    if (std::abs(normal.dot(datum_.normal())) > upright) return std::nullopt;
    return Vector2(normal.dot(datum_.x()), normal.dot(datum_.y())).normalized();
}

/// Of a planar wall: the straight curves that run beside more than a point of the border.
void OutlineWalls::touched_by_border(const std::vector<Point2>& border, const Vector2& outward,
                                     std::vector<int>& found) const {
    const Vector2 along(-outward.y(), outward.x());
    double low = std::numeric_limits<double>::infinity(), high = -low;
    for (const Point2& point : border) {
        low = std::min(low, along.dot(point));
        high = std::max(high, along.dot(point));
    }
    const double level = outward.dot(border.front());
    Box2 box;
    for (const Point2& point : border) box.extend(point);
    for (const Wall& wall : curves_) {
        const auto* line = std::get_if<Line>(&wall.curve);
        if (!line || !wall.box.intersects(box)) continue;
        if (right_of(line->end - line->start).dot(outward) < same_direction) continue;
        const double off = std::max(std::abs(outward.dot(line->start) - level),
                                    std::abs(outward.dot(line->end) - level));
        const double from = std::min(along.dot(line->start), along.dot(line->end));
        const double to = std::max(along.dot(line->start), along.dot(line->end));
        if (off <= near_ && std::min(to, high) - std::max(from, low) > within_)
            found.push_back(wall.run);
    }
}

/// Of any wall: the nearest curve at a place.
void OutlineWalls::touched_at(const Place& place, std::vector<int>& found) const {
    int nearest = -1;
    double least = near_;
    for (const Wall& wall : curves_) {
        if (!wall.box.contains(place.at)) continue;
        const double t = nearest_parameter(wall.curve, place.at);
        const double distance = (point_at(wall.curve, t) - place.at).norm();
        const Vector2 tangent = derivative_at(wall.curve, t);
        if (distance > least || !(tangent.norm() > 0.0) ||
            right_of(tangent).dot(place.outward) < same_direction)
            continue;
        least = distance;
        nearest = wall.run;
    }
    if (nearest >= 0) found.push_back(nearest);
}

std::vector<int> OutlineWalls::touched(const Contact& contact, int side,
                                       const Transform3& motion) const {
    const double sign = side == 0 ? 1.0 : -1.0;
    const auto placed = [&](const Point3& point) {
        return Point2(datum_.to_datum(motion * point).head<2>());
    };
    std::vector<int> found;
    for (std::size_t i = 0; i < contact.points.size(); ++i) {
        const ContactPoint& point = contact.points[i];
        const auto normal = outward(motion.linear() * (sign * point.normal));
        if (!normal) continue;
        if (contact.borders.empty()) {
            touched_at({placed(point.place), *normal}, found);
            continue;
        }
        std::vector<Point2> border;
        for (const Point3& corner : contact.borders[i]) border.push_back(placed(corner));
        touched_by_border(border, *normal, found);
    }
    std::sort(found.begin(), found.end());
    found.erase(std::unique(found.begin(), found.end()), found.end());
    return found;
}

}  // namespace planform::contact
