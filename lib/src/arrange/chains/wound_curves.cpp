#include "arrange/chains/wound_curves.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include "curve/angles.hpp"

namespace planform::arrange {
namespace {

/// Directions that differ by a turn within this are parallel, rad.
constexpr double parallel = 0.2;
/// Stretches of a curve that is cut turn by at most this: none can be parallel to itself.
constexpr double most_turn = 1.5 * pi;

double angle_between(const Vector2& u, const Vector2& v) {
    return std::atan2(cross(u, v), u.dot(v));
}

/// Could the direction come round? By the legs between the poles, as the curve turns no more.
bool may_go_round(const Spline& spline) {
    double angle = 0.0, least = 0.0, most = 0.0;
    Vector2 before = Vector2::Zero();
    for (std::size_t k = 1; k < spline.poles.size(); ++k) {
        const Vector2 leg = spline.poles[k] - spline.poles[k - 1];
        if (leg.squaredNorm() == 0.0) continue;
        if (before.squaredNorm() > 0.0) angle += angle_between(before, leg);
        least = std::min(least, angle);
        most = std::max(most, angle);
        before = leg;
    }
    return most - least > full_turn - parallel;
}

struct WoundSample {
    double parameter;
    Point2 point;
    double angle;  ///< of the direction, counted on from the first
};

std::vector<WoundSample> samples_of(const Spline& spline) {
    constexpr std::size_t a_piece = 8, most = 600;
    std::vector<double> knots = spline.knots;
    knots.erase(std::unique(knots.begin(), knots.end()), knots.end());
    const std::size_t pieces = knots.size() - 1;
    const std::size_t steps = std::max<std::size_t>(1, std::min(a_piece, most / pieces));
    std::vector<WoundSample> samples;
    Vector2 before = Vector2::Zero();
    for (std::size_t k = 0; k <= pieces * steps; ++k) {
        const std::size_t piece = std::min(k / steps, pieces - 1);
        const double share = static_cast<double>(k - piece * steps) / static_cast<double>(steps);
        const double t = (1.0 - share) * knots[piece] + share * knots[piece + 1];
        const Vector2 way = derivative_at(spline, t);
        double angle = samples.empty() ? 0.0 : samples.back().angle;
        if (before.squaredNorm() > 0.0 && way.squaredNorm() > 0.0)
            angle += angle_between(before, way);
        if (way.squaredNorm() > 0.0) before = way;
        samples.push_back({t, point_at(spline, t), angle});
    }
    return samples;
}

/// Distance of a point from the curve beside a sample: Newton's method on the distance, in bounds.
double distance_beside(const Spline& spline, const Point2& point, double t, double reach) {
    const double first = std::max(t - reach, spline.knots.front());
    const double last = std::min(t + reach, spline.knots.back());
    for (int step = 0; step < 8; ++step) {
        const Vector2 off = point_at(spline, t) - point, way = derivative_at(spline, t);
        const double slope = way.squaredNorm() + off.dot(second_derivative_at(spline, t));
        if (!(slope > 0.0)) break;
        t = std::clamp(t - off.dot(way) / slope, first, last);
    }
    return (point_at(spline, t) - point).norm();
}

/// Does the curve, a turn later, come to lie on itself?
bool lies_on_itself(const Spline& spline, const std::vector<WoundSample>& samples, double near) {
    // The ends of a closed curve meet, and lie on nothing for that.
    for (std::size_t i = 1; i + 1 < samples.size(); ++i)
        for (std::size_t j = i + 1; j + 1 < samples.size(); ++j) {
            const double turned = std::abs(samples[j].angle - samples[i].angle);
            if (turned < full_turn - parallel) continue;
            if (std::abs(turned - full_turn * std::round(turned / full_turn)) > parallel) continue;
            const double reach = samples[j + 1].parameter - samples[j - 1].parameter;
            const double step = (samples[j + 1].point - samples[j - 1].point).norm();
            if ((samples[i].point - samples[j].point).norm() > step + near) continue;
            if (distance_beside(spline, samples[i].point, samples[j].parameter, reach) <= near)
                return true;
        }
    return false;
}

/// Where to cut it: parameters, none if it need not be.
std::vector<double> cuts(const Spline& spline, double near) {
    std::vector<double> places;
    if (!may_go_round(spline)) return places;
    const std::vector<WoundSample> samples = samples_of(spline);
    if (!lies_on_itself(spline, samples, near)) return places;
    double least = 0.0, most = 0.0;
    for (std::size_t k = 1; k + 1 < samples.size(); ++k) {
        least = std::min(least, samples[k].angle);
        most = std::max(most, samples[k].angle);
        if (std::max(samples[k + 1].angle, most) - std::min(samples[k + 1].angle, least) <=
            most_turn)
            continue;
        places.push_back(samples[k].parameter);
        least = most = samples[k].angle;
    }
    return places;
}

}  // namespace

Input with_wound_curves_cut(Input input, double near) {
    std::vector<DirectedCurve> curves;
    curves.reserve(input.curves.size());
    for (DirectedCurve& whole : input.curves) {
        const Spline* spline = std::get_if<Spline>(&whole.curve);
        const std::vector<double> places = spline ? cuts(*spline, near) : std::vector<double>();
        if (places.empty()) {
            curves.push_back(std::move(whole));
            continue;
        }
        double from = spline->knots.front();
        int start = whole.start_node;
        for (std::size_t k = 0; k <= places.size(); ++k) {
            const bool is_last = k == places.size();
            const double to = is_last ? spline->knots.back() : places[k];
            DirectedCurve part = whole;
            part.curve = trimmed(whole.curve, from, to);
            part.start_node = start;
            if (!is_last) {
                part.end_node = static_cast<int>(input.nodes.size());
                input.nodes.push_back(point_at(*spline, to));
            }
            start = part.end_node;
            from = to;
            curves.push_back(std::move(part));
        }
    }
    input.curves = std::move(curves);
    return input;
}

}  // namespace planform::arrange
