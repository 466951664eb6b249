#include "plan/start_places.hpp"

#include <algorithm>
#include <cmath>

#include "curve/index.hpp"

namespace planform::planning {
namespace {

using detail::index;

/// Directions that differ by less (rad) make no corner: one degree.
constexpr double smooth_turn = pi / 180.0;
/// Places of each kind that are looked at: with them all round there are some forty.
constexpr int most_of_a_kind = 8;
/// Places evenly along the contour.
constexpr int most_even = 16;
/// A share of the web that a place with a curved wall before it may lack.
constexpr double web_slack = 0.1;

Vector2 direction_near(const Curve& curve, double t, double toward) {
    Vector2 direction = derivative_at(curve, t);
    if (direction.norm() > 1e-12) return direction.normalized();
    // A spline whose first poles coincide: its direction is that a little further on.
    const Vector2 chord = point_at(curve, toward) - point_at(curve, t);
    return (toward > t ? chord : Vector2(-chord)).normalized();
}

Vector2 direction_out(const Curve& curve, double t) {
    const Interval range = domain(curve);
    return direction_near(curve, t, std::min(range.last, t + 1e-3 * (range.last - range.first)));
}

Vector2 direction_in(const Curve& curve, double t) {
    const Interval range = domain(curve);
    return direction_near(curve, t, std::max(range.first, t - 1e-3 * (range.last - range.first)));
}

double clockwise(const Vector2& from, const Vector2& to) {
    const double angle = -std::atan2(cross(from, to), from.dot(to));
    return angle <= 0.0 ? angle + 2.0 * pi : angle;
}

struct Ranked {
    double length;
    StartPlace place;
};

void append_longest(std::vector<Ranked>& candidates, std::vector<StartPlace>& places) {
    std::stable_sort(candidates.begin(), candidates.end(), [](const Ranked& a, const Ranked& b) {
        return a.length > b.length * (1.0 + 1e-9);
    });
    for (std::size_t i = 0; i < candidates.size() && i < index(most_of_a_kind); ++i)
        places.push_back(candidates[i].place);
}

/// Places at equal steps of length, each within a curve.
void append_even(const Contour& contour, const std::vector<double>& lengths, double total,
                 std::vector<StartPlace>& places) {
    std::size_t curve = 0;
    double before = 0.0;
    for (int i = 0; i < most_even; ++i) {
        const double wanted = total * (i + 0.5) / most_even;
        while (curve + 1 < lengths.size() && before + lengths[curve] < wanted)
            before += lengths[curve++];
        const double share = std::clamp((wanted - before) / lengths[curve], 0.01, 0.99);
        const Interval range = domain(contour.curves()[curve]);
        places.push_back(start_place(contour, static_cast<int>(curve),
                                     range.first + share * (range.last - range.first)));
    }
}

/// Is the material behind the place as wide as asked? A disc that touches the contour there from
/// within has that diameter.
bool has_web(const SheetField& field, const StartPlace& place, double web) {
    if (web <= 0.0) return true;
    const Vector2 bisector =
        Eigen::Rotation2Dd(0.5 * (2.0 * pi - place.opening)).toRotationMatrix() * place.leaving;
    const double radius = 0.5 * web;
    // In a corner the disc lies further in.
    const double inset = radius / std::max(0.2, std::sin(0.5 * (2.0 * pi - place.opening)));
    return field.distance(Point2(place.point + inset * bisector), radius) >=
           (1.0 - web_slack) * radius;
}

}  // namespace

StartPlace start_place(const Contour& contour, int curve, double t) {
    const auto& curves = contour.curves();
    if (t >= domain(curves[index(curve)]).last) {
        curve = (curve + 1) % static_cast<int>(curves.size());
        t = domain(curves[index(curve)]).first;
    }
    const Curve& at = curves[index(curve)];
    const Interval range = domain(at);
    StartPlace place{curve, t, point_at(at, t), direction_out(at, t), direction_in(at, t), pi};
    if (t <= range.first) {
        const Curve& before = curves[(index(curve) + curves.size() - 1) % curves.size()];
        place.arriving = direction_in(before, domain(before).last);
        const double turn =
            std::atan2(cross(place.arriving, place.leaving), place.arriving.dot(place.leaving));
        if (std::abs(turn) >= smooth_turn)
            place.opening = clockwise(place.leaving, -place.arriving);
    }
    return place;
}

std::vector<StartPlace> start_places(const SheetField& field, int number, StartAt wanted,
                                     const std::vector<int>& avoid, double web) {
    const Contour& contour = *field.contours()[index(number)].contour;
    const auto& curves = contour.curves();
    std::vector<double> lengths;
    double total = 0.0;
    for (const Curve& curve : curves) {
        lengths.push_back(length(curve));
        total += lengths.back();
    }
    std::vector<Ranked> lines, others, corners;
    for (int i = 0; i < static_cast<int>(curves.size()); ++i) {
        const Curve& curve = curves[index(i)];
        const Interval range = domain(curve);
        const double middle = 0.5 * (range.first + range.last);
        (std::holds_alternative<Line>(curve) ? lines : others)
            .push_back({lengths[index(i)], start_place(contour, i, middle)});
        const StartPlace corner = start_place(contour, i, range.first);
        const double beside =
            std::min(lengths[index(i)], lengths[(index(i) + curves.size() - 1) % curves.size()]);
        if (corner.opening != pi) corners.push_back({beside, corner});
    }
    std::vector<StartPlace> places;
    if (wanted == StartAt::corner) append_longest(corners, places);
    append_longest(lines, places);
    append_longest(others, places);
    if (wanted == StartAt::middle) append_longest(corners, places);
    append_even(contour, lengths, total, places);
    std::stable_partition(places.begin(), places.end(), [&](const StartPlace& place) {
        return std::find(avoid.begin(), avoid.end(), place.curve) == avoid.end() &&
               has_web(field, place, web);
    });
    return places;
}

std::vector<Curve> from_place(const Contour& contour, const StartPlace& place) {
    const auto& curves = contour.curves();
    const std::size_t first = index(place.curve);
    const Curve& at = curves[first];
    const Interval range = domain(at);
    if (const Arc* arc = std::get_if<Arc>(&at); arc != nullptr && curves.size() == 1) {
        Arc turned = *arc;
        turned.start_angle += place.t * arc->sweep;
        return std::vector<Curve>(1, turned);
    }
    std::vector<Curve> result;
    const bool is_inside = place.t > range.first && place.t < range.last;
    result.push_back(is_inside ? trimmed(at, place.t, range.last) : at);
    for (std::size_t i = 1; i < curves.size(); ++i)
        result.push_back(curves[(first + i) % curves.size()]);
    if (is_inside) result.push_back(trimmed(at, range.first, place.t));
    return result;
}

}  // namespace planform::planning
