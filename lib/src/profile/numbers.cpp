#include "profile/numbers.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "curve/angles.hpp"

namespace planform::detail {
namespace {

// --- merging -------------------------------------------------------------------------------------

std::optional<Curve> merged_lines(const Line& a, const Line& b, double support) {
    const Vector2 chord = b.end - a.start;
    const double length = chord.norm();
    const bool onward = (a.end - a.start).dot(b.end - b.start) > 0.0;
    if (!onward || std::abs(cross(chord, a.end - a.start)) > support * length) return std::nullopt;
    return Line{a.start, b.end};
}

std::optional<Curve> merged_arcs(const Arc& a, const Arc& b, double support) {
    if (a.sweep * b.sweep < 0.0 || (a.center - b.center).norm() > support ||
        std::abs(a.radius - b.radius) > support)
        return std::nullopt;
    return Arc{a.center, a.radius, a.start_angle, a.sweep + b.sweep};
}

std::optional<Curve> merged_ellipses(const EllipticalArc& a, const EllipticalArc& b,
                                     double support) {
    const bool same_axes =
        std::min((a.major - b.major).norm(), (a.major + b.major).norm()) <= support &&
        std::abs(a.ratio - b.ratio) * a.major.norm() <= support;
    if (a.sweep * b.sweep < 0.0 || (a.center - b.center).norm() > support || !same_axes)
        return std::nullopt;
    return EllipticalArc{a.center, a.major, a.ratio, a.start_angle, a.sweep + b.sweep};
}

/// One curve for two neighbours with the same support, if they have.
std::optional<Curve> merged(const Curve& a, const Curve& b, double support) {
    if (a.index() != b.index()) return std::nullopt;
    if (const Line* line = std::get_if<Line>(&a))
        return merged_lines(*line, std::get<Line>(b), support);
    if (const Arc* arc = std::get_if<Arc>(&a)) return merged_arcs(*arc, std::get<Arc>(b), support);
    if (const EllipticalArc* arc = std::get_if<EllipticalArc>(&a))
        return merged_ellipses(*arc, std::get<EllipticalArc>(b), support);
    return std::nullopt;
}

// --- numbers -------------------------------------------------------------------------------------

void append(std::vector<double>& lengths, const Point2& point) {
    lengths.push_back(point.x());
    lengths.push_back(point.y());
}

/// A whole circle: no vertex, no direction (the role of the contour gives that).
CurveNumbers circle_numbers(const Arc& arc) {
    return {CurveTag::circle, 0, 0, {arc.center.x(), arc.center.y(), arc.radius}};
}

/// A whole ellipse by its centre, its half-axes, and half its width along x, y and the diagonal,
/// which stay well-conditioned where the direction of the axes doesn't (nearly a circle).
CurveNumbers full_ellipse_numbers(const EllipticalArc& arc) {
    const Vector2 minor = arc.ratio * Vector2(-arc.major.y(), arc.major.x());
    const Vector2 diagonal = Vector2(1.0, 1.0).normalized();
    return {CurveTag::full_ellipse,
            0,
            0,
            {arc.center.x(), arc.center.y(), arc.major.norm(), minor.norm(),
             std::hypot(arc.major.x(), minor.x()), std::hypot(arc.major.y(), minor.y()),
             std::hypot(diagonal.dot(arc.major), diagonal.dot(minor))}};
}

/// Poles, then the inner knots and the weights as lengths: a change of either moves the curve by
/// no more than its share of the poles' polygon.
CurveNumbers spline_numbers(const Spline& spline) {
    CurveNumbers numbers{
        CurveTag::spline, spline.degree, static_cast<int>(spline.poles.size()), {}};
    double polygon = 0.0;
    for (std::size_t i = 0; i < spline.poles.size(); ++i) {
        append(numbers.lengths, spline.poles[i]);
        if (i > 0) polygon += (spline.poles[i] - spline.poles[i - 1]).norm();
    }
    const double first = spline.knots.front();
    const double range = spline.knots.back() - first;
    const auto order = static_cast<std::size_t>(spline.degree) + 1;
    for (std::size_t i = order; i + order < spline.knots.size(); ++i)
        numbers.lengths.push_back((spline.knots[i] - first) / range * polygon);
    for (const double weight : spline.weights)
        numbers.lengths.push_back(weight / spline.weights.front() * polygon);
    return numbers;
}

CurveNumbers curve_numbers(const Curve& curve) {
    if (const Spline* spline = std::get_if<Spline>(&curve)) return spline_numbers(*spline);
    if (const Arc* arc = std::get_if<Arc>(&curve); arc && is_full_turn(arc->radius, arc->sweep))
        return circle_numbers(*arc);
    if (const EllipticalArc* arc = std::get_if<EllipticalArc>(&curve);
        arc && is_full_turn(arc->major.norm(), arc->sweep))
        return full_ellipse_numbers(*arc);
    CurveNumbers numbers{CurveTag::line, 0, 0, {}};
    append(numbers.lengths, start_point(curve));
    if (std::holds_alternative<Line>(curve)) return numbers;
    numbers.tag = CurveTag::arc;
    append(numbers.lengths, point_at(curve, 0.5));
    if (std::holds_alternative<Arc>(curve)) return numbers;
    numbers.tag = CurveTag::ellipse;
    append(numbers.lengths, point_at(curve, 0.25));
    append(numbers.lengths, point_at(curve, 0.75));
    return numbers;
}

ContourNumbers contour_numbers(const Contour& contour, double support) {
    ContourNumbers numbers;
    for (const Curve& curve : merged_curves(contour, support))
        numbers.push_back(curve_numbers(curve));
    return numbers;
}

/// Neighbours of a chain with one support made one.
std::vector<Curve> merged_chain(const std::vector<Curve>& curves, double support) {
    std::vector<Curve> result;
    for (const Curve& curve : curves) {
        Curve simplest = canonical(curve, support);
        const std::optional<Curve> both =
            result.empty() ? std::nullopt : merged(result.back(), simplest, support);
        if (both)
            result.back() = *both;
        else
            result.push_back(std::move(simplest));
    }
    return result;
}

/// Which end of an open chain comes first: along a direction that no edge of a drawing has.
bool runs_onward(const std::vector<Curve>& chain) {
    const Vector2 direction(std::cos(1.0), std::sin(1.0));
    return direction.dot(end_point(chain.back()) - start_point(chain.front())) >= 0.0;
}

ContourNumbers mark_numbers(const Mark& mark, double support) {
    ContourNumbers numbers;
    if (mark.is_closed()) {
        const Contour& contour = mark.contour();
        numbers = contour_numbers(contour.area() < 0.0 ? contour.reversed() : contour, support);
    } else {
        std::vector<Curve> chain = mark.curves();
        if (!runs_onward(chain)) {
            std::reverse(chain.begin(), chain.end());
            for (Curve& curve : chain) curve = reversed(curve);
        }
        chain = merged_chain(chain, support);
        for (const Curve& curve : chain) numbers.push_back(curve_numbers(curve));
        CurveNumbers end{CurveTag::end, 0, 0, {}};
        append(end.lengths, end_point(chain.back()));
        numbers.push_back(std::move(end));
    }
    if (mark.depth() != 0.0) {
        const Point2 middle = mark.bounds().center();
        numbers.push_back({CurveTag::depth, 0, 0, {middle.x(), middle.y(), mark.depth()}});
    }
    return numbers;
}

}  // namespace

std::vector<Curve> merged_curves(const Contour& contour, double support) {
    std::vector<Curve> result = merged_chain(contour.curves(), support);
    while (result.size() > 1) {
        const std::optional<Curve> both = merged(result.back(), result.front(), support);
        if (!both) break;
        result.front() = *both;
        result.pop_back();
    }
    return result;
}

std::vector<Curve> merged_curves(const Mark& mark, double support) {
    return mark.is_closed() ? merged_curves(mark.contour(), support)
                            : merged_chain(mark.curves(), support);
}

bool is_full_turn(double radius, double sweep) {
    return std::abs(sweep) >= full_turn * (1.0 - 1e-12) ||
           radius * (full_turn - std::abs(sweep)) <= same_support;
}

SetNumbers numbers_of(const ProfileSet& set, double support) {
    SetNumbers numbers;
    for (const Profile& profile : set.profiles()) {
        ProfileNumbers& added = numbers.profiles.emplace_back();
        added.outer = contour_numbers(profile.outer(), support);
        for (const Contour& hole : profile.holes())
            added.holes.push_back(contour_numbers(hole, support));
    }
    for (const Mark& mark : set.marks()) numbers.marks.push_back(mark_numbers(mark, support));
    if (!set.empty()) numbers.size = set.bounds().diagonal().norm();
    return numbers;
}

}  // namespace planform::detail
