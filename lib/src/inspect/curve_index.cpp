#include "inspect/curve_index.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "curve/angles.hpp"

namespace planform::inspection {
namespace {

bool is_round(const Contour& contour) {
    for (const Curve& curve : contour.curves())
        if (!std::holds_alternative<Arc>(curve)) return false;
    return contour.is_circle();
}

Vector2 unit(const Vector2& vector) {
    const double length = vector.norm();
    return length > 0.0 ? Vector2(vector / length) : vector;
}

/// Counter-clockwise turn from `from` to `to`, in [0, 2 pi).
double turn(const Vector2& from, const Vector2& to) {
    const double angle = std::atan2(cross(from, to), from.dot(to));
    return angle < 0.0 ? angle + full_turn : angle;
}

}  // namespace

Point2 nearest_on_segment(const Point2& point, const Point2& start, const Point2& end) {
    const Vector2 chord = end - start;
    const double squared = chord.squaredNorm();
    if (squared == 0.0) return start;
    return start + std::clamp(chord.dot(point - start) / squared, 0.0, 1.0) * chord;
}

double distance_to_segment(const Point2& point, const Point2& start, const Point2& end) {
    return (nearest_on_segment(point, start, end) - point).norm();
}

CurveIndex::CurveIndex(const ProfileSet& profiles, double chord_error) : chord_error_(chord_error) {
    for (std::size_t i = 0; i < profiles.profiles().size(); ++i) {
        const Profile& profile = profiles.profiles()[i];
        add(profile.outer(), static_cast<int>(i), 0);
        for (std::size_t hole = 0; hole < profile.holes().size(); ++hole)
            add(profile.holes()[hole], static_cast<int>(i), static_cast<int>(hole) + 1);
    }
    std::vector<Box2> boxes;
    boxes.reserve(stretches_.size());
    for (const Stretch& stretch : stretches_) {
        Box2 box;
        if (stretch.round >= 0) {
            const Round& round = rounds_[static_cast<std::size_t>(stretch.round)];
            const Vector2 reach = Vector2::Constant(round.radius);
            box = Box2(round.center - reach, round.center + reach);
        } else {
            box.extend(stretch.start);
            box.extend(stretch.end);
            const Vector2 margin = Vector2::Constant(chord_error_);
            box = Box2(box.min() - margin, box.max() + margin);
        }
        bounds_.extend(box);
        boxes.push_back(box);
    }
    grid_.emplace(boxes);
    tree_.emplace((*grid_)(boxes));
}

void CurveIndex::add(const Contour& contour, int profile, int number) {
    const int first = static_cast<int>(curves_.size());
    const int count = static_cast<int>(contour.curves().size());
    const bool round = is_round(contour);
    for (int i = 0; i < count; ++i)
        curves_.push_back({&contour.curves()[static_cast<std::size_t>(i)], profile, number,
                           first + (i + count - 1) % count, first + (i + 1) % count,
                           round ? static_cast<int>(rounds_.size()) : -1});
    if (round) {
        const Arc& arc = std::get<Arc>(contour.curves().front());
        stretches_.push_back(
            {-1, 0.0, 0.0, arc.center, arc.center, static_cast<int>(rounds_.size())});
        rounds_.push_back({arc.center, arc.radius, profile, number, first, count});
    } else {
        for (int i = 0; i < count; ++i) add_chords(first + i);
    }
}

void CurveIndex::add_chords(int number) {
    const Curve& curve = *curves_[static_cast<std::size_t>(number)].curve;
    const std::vector<double> parameters = chord_parameters(curve, chord_error_);
    Point2 start = point_at(curve, parameters.front());
    for (std::size_t i = 1; i < parameters.size(); ++i) {
        const Point2 end = point_at(curve, parameters[i]);
        stretches_.push_back({number, parameters[i - 1], parameters[i], start, end, -1});
        start = end;
    }
}

bool CurveIndex::disc_is_empty(const Point2& center, double radius, double slack) const {
    const double free = radius - slack;
    if (free <= 0.0) return true;
    const Vector2 reach = Vector2::Constant(free);
    std::vector<int> settled;
    return !any_near(Box2(center - reach, center + reach), [&](std::int32_t index) {
        const Stretch& stretch = stretches_[static_cast<std::size_t>(index)];
        if (stretch.round >= 0) {
            const Round& round = rounds_[static_cast<std::size_t>(stretch.round)];
            return std::abs((center - round.center).norm() - round.radius) < free;
        }
        if (distance_to_segment(center, stretch.start, stretch.end) >= free + chord_error_)
            return false;
        if (std::find(settled.begin(), settled.end(), stretch.curve) != settled.end()) return false;
        settled.push_back(stretch.curve);
        const Curve& curve = *curves_[static_cast<std::size_t>(stretch.curve)].curve;
        return (point_at(curve, nearest_parameter(curve, center)) - center).norm() < free;
    });
}

bool CurveIndex::leads_into_material(int number, double t, const Vector2& direction) const {
    const OutlineCurve& outline = curves_[static_cast<std::size_t>(number)];
    const Interval range = domain(*outline.curve);
    const double end = 1e-9 * (range.last - range.first);
    Vector2 arriving = derivative_at(*outline.curve, t);
    Vector2 leaving = arriving;
    if (t >= range.last - end) {
        const Curve& next = *curves_[static_cast<std::size_t>(outline.next)].curve;
        leaving = derivative_at(next, domain(next).first);
    } else if (t <= range.first + end) {
        const Curve& previous = *curves_[static_cast<std::size_t>(outline.previous)].curve;
        arriving = derivative_at(previous, domain(previous).last);
    }
    // Material is on the left: between the way on and the way back, counter-clockwise.
    return turn(unit(leaving), unit(direction)) < turn(unit(leaving), -unit(arriving));
}

}  // namespace planform::inspection
