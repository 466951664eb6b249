/// Polylines within a tolerance of a curve.
///
/// Why a one-sided test is enough: the piece of curve between two vertices is continuous and joins
/// the ends of its chord, so its projection on the chord's line covers the whole chord. If no point
/// of the piece is further than the tolerance from the chord (a segment, not a line), then no point
/// of the chord is further than that from the piece either, and the Hausdorff distance is bounded.

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

#include "curve/overloaded.hpp"
#include "curve/spline.hpp"
#include "planform/curve.hpp"
#include "planform/error.hpp"

namespace planform {
namespace {

using detail::BezierPiece;
using detail::Overloaded;

/// Longest step of the (parametric) angle: a full turn gets at least four chords at any tolerance,
/// so that it never collapses to a segment.
constexpr double longest_step = 0.5 * pi;
constexpr int deepest_bisection = 48;
/// Least tolerance, relative to the size of the coordinates: below it, what is measured is
/// rounding, and a circle would get millions of chords.
constexpr double finest_tolerance = 1e-13;

void require_tolerance(double tolerance) {
    if (!(tolerance > 0.0) || !std::isfinite(tolerance))
        throw GeometryError(
            ErrorKind::invalid_argument,
            "tolerance " + std::to_string(tolerance) + " mm: a positive finite number is needed");
}

/// How to go on with a piece whose chord is off by `deviation`: as the deviation falls with the
/// square of the step, two or three equal parts may do; beyond that the piece is halved, and each
/// half finds its own number, so that quiet stretches get long chords.
int parts_for(double deviation, double tolerance) {
    return deviation > 4.0 * tolerance && deviation <= 9.0 * tolerance ? 3 : 2;
}

std::vector<double> arc_parameters(const Arc& arc, double tolerance) {
    // Sagitta: radius (1 - cos(step / 2)) = 2 radius sin^2(step / 4).
    const double relative = std::max(tolerance / arc.radius, finest_tolerance);
    const double sine = std::sqrt(std::min(1.0, 0.5 * relative));
    const double step = std::min(longest_step, 4.0 * std::asin(sine));
    const double wanted = std::abs(arc.sweep) / step;
    const int count = std::max(1, static_cast<int>(std::ceil(wanted * (1.0 - 1e-12))));
    std::vector<double> parameters(count + 1);
    for (int i = 0; i <= count; ++i) parameters[i] = static_cast<double>(i) / count;
    return parameters;
}

/// Splits [from, to] of an elliptical arc until each chord is within tolerance; appends the ends.
class EllipseChords {
  public:
    EllipseChords(const EllipticalArc& arc, double tolerance, std::vector<double>& parameters)
        : arc_(arc),
          tolerance_(std::max(tolerance, finest_tolerance * arc.major.norm())),
          semi_major_(arc.major.norm()),
          semi_minor_(arc.ratio * semi_major_),
          parameters_(parameters) {}

    void append(double from, double to, int depth) {
        const double deviation = this->deviation(from, to);
        if (deviation <= tolerance_ || depth == 0) {
            parameters_.push_back(to);
            return;
        }
        const int parts = parts_for(deviation, tolerance_);
        double left = from;
        for (int i = 1; i <= parts; ++i) {
            const double right = i == parts ? to : from + (to - from) * i / parts;
            append(left, right, depth - 1);
            left = right;
        }
    }

  private:
    /// Speed |p'(a)| in the axes' own frame.
    Vector2 tangent(double angle) const {
        return {-semi_major_ * std::sin(angle), semi_minor_ * std::cos(angle)};
    }

    /// Bound on the distance between the piece and its chord. The affine image of a circle: the
    /// point furthest from the chord is at the middle angle m, and its distance is
    /// (1 - cos(step / 2)) a b / |p'(m)|, exactly, if the piece does not run out beyond the chord's
    /// ends; where it does, the length of the piece stands in.
    double deviation(double from, double to) const {
        const double step = std::abs((to - from) * arc_.sweep);
        const double middle = arc_.start_angle + 0.5 * (from + to) * arc_.sweep;
        const Vector2 along = tangent(middle);
        const double sine = std::sin(0.25 * step);
        const double height = 2.0 * sine * sine * semi_major_ * semi_minor_ / along.norm();
        // The chord is parallel to the tangent at m.
        const bool forward = along.dot(tangent(middle - 0.5 * step)) >= 0.0 &&
                             along.dot(tangent(middle + 0.5 * step)) >= 0.0;
        return forward ? height : std::max(height, semi_major_ * step);
    }

    const EllipticalArc& arc_;
    double tolerance_;
    double semi_major_;
    double semi_minor_;
    std::vector<double>& parameters_;
};

std::vector<double> ellipse_parameters(const EllipticalArc& arc, double tolerance) {
    const int quadrants =
        std::max(1, static_cast<int>(std::ceil(std::abs(arc.sweep) / longest_step - 1e-12)));
    std::vector<double> parameters{0.0};
    EllipseChords chords(arc, tolerance, parameters);
    for (int i = 0; i < quadrants; ++i)
        chords.append(static_cast<double>(i) / quadrants, static_cast<double>(i + 1) / quadrants,
                      deepest_bisection);
    return parameters;
}

double distance_to_segment(const Point2& point, const Point2& start, const Vector2& chord,
                           double chord_squared) {
    const Vector2 offset = point - start;
    if (chord_squared == 0.0) return offset.norm();
    const double along = std::clamp(offset.dot(chord) / chord_squared, 0.0, 1.0);
    return (offset - along * chord).norm();
}

/// Bound on the distance of every point of the piece from its chord.
///
/// By the hull: no further than the furthest control point. Sharper, where the control points
/// project inside the chord: with d_i the signed distances of the control points from the chord's
/// line, the curve's is N(t) / w(t), N = sum w_i d_i B_i with N(0) = N(1) = 0, and
/// |N| <= p (p - 1) / 8 max |second difference of w_i d_i| (linear interpolation error with
/// N'' as in The NURBS Book, eq. (1.9) and section 5.3). Exact for a parabola.
double chord_deviation(const BezierPiece& piece) {
    const int p = piece.degree;
    const Point2 start = piece.start();
    const Vector2 chord = piece.end() - start;
    const double chord_squared = chord.squaredNorm();
    double hull = 0.0;
    bool inside = chord_squared > 0.0;
    double lightest = piece.control[0].z();
    std::array<double, detail::max_degree + 1> distance;
    for (int i = 0; i <= p; ++i) {
        const double weight = piece.control[i].z();
        const Point2 point = piece.control_point(i);
        lightest = std::min(lightest, weight);
        hull = std::max(hull, distance_to_segment(point, start, chord, chord_squared));
        const double along = chord.dot(point - start);
        inside = inside && along >= 0.0 && along <= chord_squared;
        distance[i] = weight * cross(chord, point - start);
    }
    if (!inside) return hull;
    double second = 0.0;
    for (int i = 1; i < p; ++i)
        second = std::max(second, std::abs(distance[i - 1] - 2.0 * distance[i] + distance[i + 1]));
    const double interpolation =
        0.125 * p * (p - 1) * second / (lightest * std::sqrt(chord_squared));
    return std::min(hull, interpolation);
}

void append_piece(const BezierPiece& piece, double tolerance, int depth,
                  std::vector<double>& parameters) {
    const double deviation = chord_deviation(piece);
    // A piece that is one point, or one bit wide, can't be split any further.
    if (deviation <= tolerance || depth == 0) {
        parameters.push_back(piece.last);
        return;
    }
    const int parts = parts_for(deviation, tolerance);
    BezierPiece left;
    BezierPiece rest;
    piece.split(1.0 / parts, left, rest);
    append_piece(left, tolerance, depth - 1, parameters);
    if (parts == 3) {
        BezierPiece middle;
        rest.split(0.5, middle, rest);
        append_piece(middle, tolerance, depth - 1, parameters);
    }
    append_piece(rest, tolerance, depth - 1, parameters);
}

std::vector<double> spline_parameters(const Spline& spline, double tolerance) {
    detail::require_consistent(spline);
    double magnitude = 0.0;
    for (const Point2& pole : spline.poles)
        magnitude = std::max(magnitude, pole.cwiseAbs().maxCoeff());
    tolerance = std::max(tolerance, finest_tolerance * magnitude);
    std::vector<double> parameters{spline.knots.front()};
    detail::for_each_span(spline, [&](int span) {
        append_piece(detail::bezier_piece(spline, span), tolerance, deepest_bisection, parameters);
    });
    // A closed spline smaller than the tolerance still has to be a polygon.
    constexpr std::size_t fewest_vertices = 5;
    if (parameters.size() < fewest_vertices && spline.poles.front() == spline.poles.back()) {
        const Interval range{spline.knots.front(), spline.knots.back()};
        for (int i = 1; i < 4; ++i)
            parameters.push_back(range.first + 0.25 * i * (range.last - range.first));
        std::sort(parameters.begin(), parameters.end());
        parameters.erase(std::unique(parameters.begin(), parameters.end()), parameters.end());
    }
    return parameters;
}

}  // namespace

std::vector<double> chord_parameters(const Curve& curve, double tolerance) {
    require_tolerance(tolerance);
    return std::visit(
        Overloaded{[](const Line&) {
                       return std::vector<double>{0.0, 1.0};
                   },
                   [&](const Arc& arc) { return arc_parameters(arc, tolerance); },
                   [&](const EllipticalArc& arc) { return ellipse_parameters(arc, tolerance); },
                   [&](const Spline& spline) { return spline_parameters(spline, tolerance); }},
        curve);
}

std::vector<Point2> points(const Curve& curve, double tolerance) {
    const std::vector<double> parameters = chord_parameters(curve, tolerance);
    std::vector<Point2> vertices;
    vertices.reserve(parameters.size());
    for (const double t : parameters) vertices.push_back(point_at(curve, t));
    vertices.front() = start_point(curve);
    vertices.back() = end_point(curve);
    return vertices;
}

}  // namespace planform
