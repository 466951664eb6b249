/// Where parallel curves of different distances meet.

#include <algorithm>
#include <cmath>

#include "offset/corner.hpp"

namespace planform::offset_detail {
namespace {

/// Sine of the angle below which two directions count as one: their intersection is then known to
/// a thousandth of the distance or worse.
constexpr double least_sine = 1e-3;

/// A directed line or circle through a parallel curve's end, on and on, with the way along it.
class Course {
  public:
    Course(const Curve& curve, const Place& end) : end_(end) {
        if (const Arc* arc = std::get_if<Arc>(&curve)) {
            circle_ = true;
            center_ = arc->center;
            radius_ = arc->radius;
            turn_ = arc->sweep < 0.0 ? -1.0 : 1.0;
        }
        straight_ = !circle_ && !std::holds_alternative<Line>(curve);
        length_ = planform::length(curve);
    }

    bool is_circle() const { return circle_; }
    const Point2& center() const { return center_; }
    double radius() const { return radius_; }
    const Point2& end() const { return end_.point; }
    const Vector2& direction() const { return end_.tangent; }

    /// Signed mm from the end to a point on the course.
    double way_to(const Point2& point) const {
        if (!circle_) return (point - end_.point).dot(end_.tangent);
        const Vector2 a = end_.point - center_, b = point - center_;
        return turn_ * radius_ * std::atan2(cross(a, b), a.dot(b));
    }
    /// May the end be moved by this much? `inward` is the sign that shortens the curve.
    bool allows(double way, double inward) const {
        const double shortened = way * inward;
        return straight_ ? shortened <= 1e-9 * length_ : shortened <= 0.499 * length_;
    }
    /// The curve from a point on the course at `from` mm from the end to one at `to` mm.
    std::vector<Curve> piece(const Point2& start, double from, const Point2& finish,
                             double to) const {
        if (from == to) return {};
        if (!circle_) return {Line{start, finish}};
        const Vector2 out = start - center_;
        return {Arc{center_, radius_, std::atan2(out.y(), out.x()), turn_ * (to - from) / radius_}};
    }

  private:
    Place end_;
    bool circle_ = false;
    bool straight_ = false;  ///< goes on straight from the end of a curve that isn't
    Point2 center_ = Point2::Zero();
    double radius_ = 0.0;
    double turn_ = 1.0;
    double length_ = 0.0;
};

void line_and_line(const Course& a, const Course& b, std::vector<Point2>& found) {
    const double sine = cross(a.direction(), b.direction());
    if (std::abs(sine) < least_sine) return;
    found.push_back(a.end() + cross(b.end() - a.end(), b.direction()) / sine * a.direction());
}

void line_and_circle(const Course& line, const Course& circle, std::vector<Point2>& found) {
    const Vector2 to_center = circle.center() - line.end();
    const double along = to_center.dot(line.direction());
    const double across = cross(line.direction(), to_center);
    const double square = circle.radius() * circle.radius() - across * across;
    if (square < least_sine * least_sine * circle.radius() * circle.radius()) return;
    for (const double sign : {-1.0, 1.0})
        found.push_back(line.end() + (along + sign * std::sqrt(square)) * line.direction());
}

void circle_and_circle(const Course& a, const Course& b, std::vector<Point2>& found) {
    const Vector2 between = b.center() - a.center();
    const double distance = between.norm();
    if (distance == 0.0) return;
    const double along = (distance * distance + a.radius() * a.radius() - b.radius() * b.radius()) /
                         (2.0 * distance);
    const double square = a.radius() * a.radius() - along * along;
    const double least = least_sine * std::min(a.radius(), b.radius());
    if (square < least * least) return;
    const Vector2 unit = between / distance;
    for (const double sign : {-1.0, 1.0})
        found.push_back(a.center() + along * unit +
                        sign * std::sqrt(square) * Vector2(-unit.y(), unit.x()));
}

}  // namespace

std::optional<Meeting> meeting(const Corner& corner, const ParallelEnd& before,
                               const ParallelEnd& after, double reach) {
    if (!before.apart || !after.apart) return std::nullopt;
    Place a = corner.before, b = corner.after;
    a.point = end_point(before.curve);
    b.point = start_point(after.curve);
    const Course first(before.curve, a), second(after.curve, b);
    std::vector<Point2> found;
    if (first.is_circle() && second.is_circle())
        circle_and_circle(first, second, found);
    else if (first.is_circle())
        line_and_circle(second, first, found);
    else if (second.is_circle())
        line_and_circle(first, second, found);
    else
        line_and_line(first, second, found);
    std::optional<Meeting> best;
    double nearest = reach;
    for (const Point2& point : found) {
        const double distance = (point - corner.point).norm();
        const double way_a = first.way_to(point), way_b = second.way_to(point);
        if (distance > nearest || !first.allows(way_a, -1.0) || !second.allows(way_b, 1.0))
            continue;
        nearest = distance;
        best = Meeting{point, way_a, way_b, first.piece(a.point, 0.0, point, way_a),
                       second.piece(point, way_b, b.point, 0.0)};
    }
    return best;
}

}  // namespace planform::offset_detail
