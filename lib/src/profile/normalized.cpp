/// A set's own place: what stays of it without where it lies.

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include "curve/quadrature.hpp"
#include "planform/profile.hpp"
#include "profile/numbers.hpp"

namespace planform {
namespace {

/// Features no further apart than this share of the size in their distance from the centroid are
/// equally far: far above noise, far below what a cut shows.
constexpr double equally_far = 1e-7;

/// The first moment of the inside over `pivot`, mm^3: by Green's theorem the integrals of
/// x^2 / 2 dy and -y^2 / 2 dx along the contour.
Vector2 moment_of(const Contour& contour, const Point2& pivot) {
    constexpr int nodes = 12, pieces = 8;
    Vector2 sum = Vector2::Zero();
    for (const Curve& curve : contour.curves()) {
        std::vector<double> breaks{domain(curve).first, domain(curve).last};
        if (const Spline* spline = std::get_if<Spline>(&curve)) {
            breaks = spline->knots;
            breaks.erase(std::unique(breaks.begin(), breaks.end()), breaks.end());
        }
        const int parts = std::holds_alternative<Line>(curve) ? 1 : pieces;
        for (std::size_t i = 0; i + 1 < breaks.size(); ++i)
            for (int part = 0; part < parts; ++part) {
                const double width = (breaks[i + 1] - breaks[i]) / parts;
                const double from = breaks[i] + part * width;
                const auto x_part = [&](double t) {
                    const double x = point_at(curve, t).x() - pivot.x();
                    return 0.5 * x * x * derivative_at(curve, t).y();
                };
                const auto y_part = [&](double t) {
                    const double y = point_at(curve, t).y() - pivot.y();
                    return -0.5 * y * y * derivative_at(curve, t).x();
                };
                sum.x() += detail::integrate_fixed(x_part, from, from + width, nodes);
                sum.y() += detail::integrate_fixed(y_part, from, from + width, nodes);
            }
    }
    return sum;
}

/// Of the material; of a set of marks alone, of what they enclose.
Point2 centroid_of(const ProfileSet& set) {
    const Point2 pivot = set.bounds().center();
    Vector2 moment = Vector2::Zero();
    double area = 0.0;
    const auto add = [&](const Contour& contour, double sign) {
        moment += sign * moment_of(contour, pivot);
        area += sign * contour.area();
    };
    for (const Profile& profile : set.profiles()) {
        add(profile.outer(), 1.0);
        for (const Contour& hole : profile.holes()) add(hole, 1.0);
    }
    if (set.profiles().empty())
        for (const Mark& mark : set.marks())
            if (mark.is_closed()) add(mark.contour(), mark.area() < 0.0 ? -1 : 1);
    return area > 0.0 ? Point2(pivot + moment / area) : pivot;
}

/// Points that move with the outline and are told without splitting or start.
void append_features(const std::vector<Curve>& curves, std::vector<Point2>& features) {
    for (const Curve& curve : curves) {
        if (const Arc* arc = std::get_if<Arc>(&curve))
            features.push_back(arc->center);
        else if (const EllipticalArc* ellipse = std::get_if<EllipticalArc>(&curve))
            for (const Vector2& axis : {Vector2(ellipse->major), Vector2(-ellipse->major)})
                features.push_back(ellipse->center + axis);
        else if (const Spline* spline = std::get_if<Spline>(&curve))
            features.insert(features.end(), spline->poles.begin(), spline->poles.end());
        // The only curve of a contour starts anywhere, if it is a circle or an ellipse.
        if (curves.size() > 1) features.push_back(start_point(curve));
    }
}

/// The directions from the centroid to the features that are furthest from it.
std::vector<Vector2> far_directions(const ProfileSet& set, const Point2& centroid) {
    std::vector<Point2> features;
    for (const Profile& profile : set.profiles()) {
        append_features(detail::merged_curves(profile.outer()), features);
        for (const Contour& hole : profile.holes())
            append_features(detail::merged_curves(hole), features);
    }
    for (const Mark& mark : set.marks()) {
        const std::vector<Curve> curves = detail::merged_curves(mark);
        append_features(curves, features);
        if (mark.is_closed()) continue;
        features.push_back(start_point(curves.front()));
        features.push_back(end_point(curves.back()));
    }
    std::vector<std::pair<double, Vector2>> far;
    for (const Point2& feature : features)
        far.emplace_back((feature - centroid).norm(), feature - centroid);
    std::sort(far.begin(), far.end(),
              [](const auto& a, const auto& b) { return a.first > b.first; });
    const double apart = equally_far * set.bounds().diagonal().norm();
    std::vector<Vector2> directions;
    for (std::size_t i = 0; i < far.size(); ++i) {
        // One group: each no nearer than the one before but for noise. In the centroid itself there
        // is no direction.
        if (far[i].first <= apart || (i > 0 && far[i - 1].first - far[i].first > apart)) break;
        directions.emplace_back(far[i].second / far[i].first);
    }
    // Features that share a place need no second try.
    std::sort(directions.begin(), directions.end(), [](const Vector2& a, const Vector2& b) {
        return std::atan2(a.y(), a.x()) < std::atan2(b.y(), b.x());
    });
    directions.erase(
        std::unique(directions.begin(), directions.end(),
                    [](const Vector2& a, const Vector2& b) { return (a - b).norm() <= 1e-12; }),
        directions.end());
    if (directions.empty()) directions.emplace_back(1.0, 0.0);
    return directions;
}

/// Turns `direction` onto x and moves the centroid into the origin.
Transform2 onto_x(const Point2& centroid, const Vector2& direction) {
    Transform2 motion = Transform2::Identity();
    motion.linear() << direction.x(), direction.y(), -direction.y(), direction.x();
    motion.translation() = -(motion.linear() * centroid);
    return motion;
}

}  // namespace

ProfileSet ProfileSet::normalized() const {
    if (empty()) return *this;
    const Point2 centroid = centroid_of(*this);
    std::pair<std::string, ProfileSet> best;
    for (const Vector2& direction : far_directions(*this, centroid)) {
        ProfileSet placed = transformed(onto_x(centroid, direction));
        std::string digest = placed.digest();
        if (best.first.empty() || digest < best.first)
            best = {std::move(digest), std::move(placed)};
    }
    return best.second;
}

}  // namespace planform
