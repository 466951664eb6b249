#include "congruence/contour_trace.hpp"

#include <algorithm>
#include <cmath>

#include "curve/angles.hpp"

namespace planform::congruence {

namespace {

constexpr std::size_t chords_in_block = 16;
/// Points that tell where a circle lies: three would do, eight even out.
constexpr int samples_on_circle = 8;

double squared_distance_to_segment(const Point2& point, const Point2& start, const Point2& end) {
    const Vector2 along = end - start;
    const double length2 = along.squaredNorm();
    const double t =
        length2 > 0.0 ? std::clamp((point - start).dot(along) / length2, 0.0, 1.0) : 0.0;
    return (start + t * along - point).squaredNorm();
}

Vector2 normal_to(const Vector2& tangent) {
    const double length = tangent.norm();
    return length > 0.0 ? Vector2(-tangent.y() / length, tangent.x() / length) : Vector2(0.0, 1.0);
}

/// The circle of a contour that is one.
std::optional<Arc> circle_of(const Contour& contour) {
    const Arc* arc = std::get_if<Arc>(&contour.curves().front());
    if (!arc || !contour.is_circle()) return std::nullopt;
    return *arc;
}

}  // namespace

ContourTrace::ContourTrace(const Contour& contour, double chord_tolerance)
    : contour_(&contour), circle_(circle_of(contour)) {
    if (circle_) {
        for (int i = 0; i < samples_on_circle; ++i) {
            const double angle = full_turn * i / samples_on_circle;
            samples_.push_back(circle_->center +
                               circle_->radius * Vector2(std::cos(angle), std::sin(angle)));
        }
        return;
    }
    for (std::size_t c = 0; c < contour.curves().size(); ++c) {
        const Curve& curve = contour.curves()[c];
        const std::vector<double> parameters = chord_parameters(curve, chord_tolerance);
        for (std::size_t i = 0; i + 1 < parameters.size(); ++i) {
            const double from = parameters[i], to = parameters[i + 1];
            chords_.push_back({c, from, to, point_at(curve, from), point_at(curve, to)});
            samples_.push_back(chords_.back().start);
            samples_.push_back(point_at(curve, (from + to) / 2.0));
        }
    }
    for (std::size_t i = 0; i < chords_.size(); ++i) {
        if (i % chords_in_block == 0) blocks_.emplace_back();
        blocks_.back().extend(chords_[i].start);
        blocks_.back().extend(chords_[i].end);
    }
}

Foot ContourTrace::nearest(const Point2& point) const {
    if (circle_) {
        const Vector2 away = point - circle_->center;
        const double distance = away.norm();
        const Vector2 direction = distance > 0.0 ? Vector2(away / distance) : Vector2(1.0, 0.0);
        return {circle_->center + circle_->radius * direction, direction};
    }
    double best = INFINITY;
    std::size_t nearest = 0;
    for (std::size_t block = 0; block < blocks_.size(); ++block) {
        if (blocks_[block].squaredExteriorDistance(point) >= best) continue;
        const std::size_t first = block * chords_in_block;
        const std::size_t last = std::min(first + chords_in_block, chords_.size());
        for (std::size_t i = first; i < last; ++i) {
            const double distance =
                squared_distance_to_segment(point, chords_[i].start, chords_[i].end);
            if (distance < best) {
                best = distance;
                nearest = i;
            }
        }
    }
    return on_curve(chords_[nearest], point);
}

Foot ContourTrace::on_curve(const Chord& chord, const Point2& point) const {
    const Curve& curve = contour_->curves()[chord.curve];
    const Vector2 along = chord.end - chord.start;
    const double length2 = along.squaredNorm();
    const double fraction =
        length2 > 0.0 ? std::clamp((point - chord.start).dot(along) / length2, 0.0, 1.0) : 0.0;
    double t = chord.from + fraction * (chord.to - chord.from);
    if (!std::holds_alternative<Line>(curve)) {
        // Newton's method for (curve(t) - point) . curve'(t) = 0; the chord is a close first guess.
        for (int step = 0; step < 5; ++step) {
            const Vector2 apart = point_at(curve, t) - point;
            const Vector2 tangent = derivative_at(curve, t);
            const double slope = tangent.squaredNorm() + apart.dot(second_derivative_at(curve, t));
            if (!(slope > 0.0)) break;
            t = std::clamp(t - apart.dot(tangent) / slope, chord.from, chord.to);
        }
    }
    const Point2 foot = point_at(curve, t);
    const Vector2 apart = point - foot;
    // Beside a corner the way to it counts, not the tangent of one of its sides.
    const bool at_end = t == chord.from || t == chord.to;
    const Vector2 normal = at_end && apart.norm() > 1e-9 ? Vector2(apart.normalized())
                                                         : normal_to(derivative_at(curve, t));
    return {foot, normal};
}

}  // namespace planform::congruence
