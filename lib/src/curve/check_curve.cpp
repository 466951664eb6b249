#include <algorithm>
#include <cmath>
#include <string>

#include "curve/angles.hpp"
#include "planform/curve.hpp"
#include "planform/error.hpp"

namespace planform {

namespace {

/// Rounding that a full turn may carry: 2 pi written and read in degrees, say.
constexpr double full_turn_slack = 1e-12;

void require(bool kept, const std::string& rule) {
    if (!kept) throw GeometryError(ErrorKind::invalid_argument, rule);
}

bool all_finite(const std::vector<double>& numbers) {
    return std::all_of(numbers.begin(), numbers.end(), [](double x) { return std::isfinite(x); });
}

void check_angles(double start_angle, double sweep) {
    require(std::isfinite(start_angle), "the start angle of an arc is a finite number");
    require(sweep != 0.0 && std::abs(sweep) <= full_turn * (1.0 + full_turn_slack),
            "the sweep of an arc is not zero and at most a full turn (2 pi) either way");
}

void check(const Line& line) {
    require(line.start.allFinite() && line.end.allFinite(),
            "the ends of a line are finite numbers");
}

void check(const Arc& arc) {
    require(arc.center.allFinite(), "the centre of an arc is two finite numbers");
    require(std::isfinite(arc.radius) && arc.radius > 0.0,
            "the radius of an arc is a finite number above 0");
    check_angles(arc.start_angle, arc.sweep);
}

void check(const EllipticalArc& arc) {
    require(arc.center.allFinite(), "the centre of an elliptical arc is two finite numbers");
    require(arc.major.allFinite() && arc.major.norm() > 0.0,
            "the major half-axis of an elliptical arc is finite and not zero");
    require(arc.ratio > 0.0 && arc.ratio <= 1.0,
            "the ratio of an elliptical arc is above 0 and at most 1");
    check_angles(arc.start_angle, arc.sweep);
}

void check_knots(const Spline& spline) {
    const auto& knots = spline.knots;
    const std::size_t order = static_cast<std::size_t>(spline.degree) + 1;
    require(knots.size() == spline.poles.size() + order,
            "a spline has as many knots as poles + degree + 1");
    require(all_finite(knots), "the knots of a spline are finite numbers");
    require(std::is_sorted(knots.begin(), knots.end()), "the knots of a spline don't decrease");
    require(knots[order - 1] == knots.front() && knots[knots.size() - order] == knots.back(),
            "the first and the last knot of a spline stand degree + 1 times (it is clamped)");
    require(knots[order] > knots.front() && knots[knots.size() - order - 1] < knots.back(),
            "the first and the last knot of a spline stand no more than degree + 1 times");
    for (std::size_t i = 1; i + order < knots.size(); ++i) {
        const bool inner = knots[i] > knots.front() && knots[i] < knots.back();
        require(!inner || knots[i] < knots[i + order - 1],
                "an inner knot of a spline stands at most degree times");
    }
}

void check(const Spline& spline) {
    require(spline.degree >= 1, "the degree of a spline is 1 or more");
    require(spline.poles.size() > static_cast<std::size_t>(spline.degree),
            "a spline has at least degree + 1 poles");
    require(std::all_of(spline.poles.begin(), spline.poles.end(),
                        [](const Point2& pole) { return pole.allFinite(); }),
            "the poles of a spline are finite numbers");
    check_knots(spline);
    require(spline.weights.empty() || spline.weights.size() == spline.poles.size(),
            "a rational spline has one weight a pole");
    require(all_finite(spline.weights) && std::all_of(spline.weights.begin(), spline.weights.end(),
                                                      [](double weight) { return weight > 0.0; }),
            "the weights of a spline are finite numbers above 0");
}

}  // namespace

void check_curve(const Curve& curve) {
    std::visit([](const auto& kind) { check(kind); }, curve);
}

}  // namespace planform
