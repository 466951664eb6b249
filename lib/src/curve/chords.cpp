/// Polylines within a tolerance of a curve.
///
/// Why a one-sided test is enough: the piece of curve between two vertices is continuous and joins
/// the ends of its chord, so its projection on the chord's line covers the whole chord. If no point
/// of the piece is further than the tolerance from the chord (a segment, not a line), then no point
/// of the chord is further than that from the piece either, and the Hausdorff distance is bounded.

#include "curve/chords.hpp"

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
using detail::BoundedChord;
using detail::Overloaded;

/// What chords have to keep: the one or the other.
struct Bounds {
    double tolerance;
    double most_sine;  ///< negative: only the tolerance counts, and sines are not asked for
};

double sine_between(const Vector2& u, const Vector2& v) {
    const double size = u.norm() * v.norm();
    return u.dot(v) > 0.0 ? std::abs(cross(u, v)) / size : 1.0;
}

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

std::vector<BoundedChord> arc_chords(const Arc& arc, const Bounds& bounds) {
    // Sagitta: radius (1 - cos(step / 2)) = 2 radius sin^2(step / 4).
    const double relative = std::max(bounds.tolerance / arc.radius, finest_tolerance);
    const double sine = std::sqrt(std::min(1.0, 0.5 * relative));
    const double by_sine = 2.0 * std::asin(std::max(0.0, bounds.most_sine));
    const double step = std::min(longest_step, std::max(4.0 * std::asin(sine), by_sine));
    const double wanted = std::abs(arc.sweep) / step;
    const int count = std::max(1, static_cast<int>(std::ceil(wanted * (1.0 - 1e-12))));
    const double half = 0.5 * std::abs(arc.sweep) / count;
    const double quarter_sine = std::sin(0.5 * half);
    std::vector<BoundedChord> chords(count);
    for (int i = 0; i < count; ++i)
        chords[i] = {static_cast<double>(i + 1) / count,
                     2.0 * arc.radius * quarter_sine * quarter_sine, std::sin(half)};
    return chords;
}

/// Splits [from, to] of an elliptical arc until each chord is within tolerance; appends the ends.
class EllipseChords {
  public:
    EllipseChords(const EllipticalArc& arc, const Bounds& bounds, std::vector<BoundedChord>& chords)
        : arc_(arc),
          bounds_{std::max(bounds.tolerance, finest_tolerance * arc.major.norm()),
                  bounds.most_sine},
          semi_major_(arc.major.norm()),
          semi_minor_(arc.ratio * semi_major_),
          chords_(chords) {}

    void append(double from, double to, int depth) {
        const double deviation = this->deviation(from, to);
        const double sine = bounds_.most_sine < 0.0 ? 1.0 : this->sine(from, to);
        if (deviation <= bounds_.tolerance || sine <= bounds_.most_sine || depth == 0) {
            chords_.push_back({to, deviation, sine});
            return;
        }
        const int parts = parts_for(deviation, bounds_.tolerance);
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

    /// The curve turns one way: it strays most at the ends. The chord is parallel to the tangent
    /// at the middle angle.
    double sine(double from, double to) const {
        const double step = (to - from) * arc_.sweep;
        const double middle = arc_.start_angle + 0.5 * (from + to) * arc_.sweep;
        if (std::abs(step) > longest_step) return 1.0;
        const Vector2 along = tangent(middle);
        return std::max(sine_between(along, tangent(middle - 0.5 * step)),
                        sine_between(along, tangent(middle + 0.5 * step)));
    }

    const EllipticalArc& arc_;
    Bounds bounds_;
    double semi_major_;
    double semi_minor_;
    std::vector<BoundedChord>& chords_;
};

std::vector<BoundedChord> ellipse_chords(const EllipticalArc& arc, const Bounds& bounds) {
    const int quadrants =
        std::max(1, static_cast<int>(std::ceil(std::abs(arc.sweep) / longest_step - 1e-12)));
    std::vector<BoundedChord> result;
    EllipseChords chords(arc, bounds, result);
    for (int i = 0; i < quadrants; ++i)
        chords.append(static_cast<double>(i) / quadrants, static_cast<double>(i + 1) / quadrants,
                      deepest_bisection);
    return result;
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

/// Bound on the sine of the angle between a piece and its chord: the piece goes in directions from
/// one control point to a later one (M. S. Floater, "Derivatives of rational Bezier curves",
/// Computer Aided Geometric Design 9 (1992)), all within the narrowest wedge about the chord that
/// holds the legs of the control polygon.
double chord_sine(const BezierPiece& piece) {
    const Vector2 chord = piece.end() - piece.start();
    double largest = 0.0;
    Point2 before = piece.start();
    for (int i = 1; i <= piece.degree; ++i) {
        const Point2 point = piece.control_point(i);
        if (point != before) largest = std::max(largest, sine_between(chord, point - before));
        before = point;
    }
    return largest;
}

void append_piece(const BezierPiece& piece, const Bounds& bounds, int depth,
                  std::vector<BoundedChord>& chords) {
    const double deviation = chord_deviation(piece);
    const double sine = bounds.most_sine < 0.0 ? 1.0 : chord_sine(piece);
    // A piece that is one point, or one bit wide, can't be split any further.
    if (deviation <= bounds.tolerance || sine <= bounds.most_sine || depth == 0) {
        chords.push_back({piece.last, deviation, sine});
        return;
    }
    const int parts = parts_for(deviation, bounds.tolerance);
    BezierPiece left;
    BezierPiece rest;
    piece.split(1.0 / parts, left, rest);
    append_piece(left, bounds, depth - 1, chords);
    if (parts == 3) {
        BezierPiece middle;
        rest.split(0.5, middle, rest);
        append_piece(middle, bounds, depth - 1, chords);
    }
    append_piece(rest, bounds, depth - 1, chords);
}

/// A closed spline smaller than the tolerance still has to be a polygon: its chords, and quarters
/// of its range.
void split_in_quarters(const Spline& spline, std::vector<BoundedChord>& chords) {
    const Interval range{spline.knots.front(), spline.knots.back()};
    double deviation = 0.0;
    for (const BoundedChord& chord : chords) deviation = std::max(deviation, chord.deviation);
    for (int i = 1; i < 4; ++i)
        chords.push_back({range.first + 0.25 * i * (range.last - range.first), deviation, 1.0});
    std::sort(chords.begin(), chords.end(),
              [](const BoundedChord& a, const BoundedChord& b) { return a.last < b.last; });
    chords.erase(
        std::unique(chords.begin(), chords.end(),
                    [](const BoundedChord& a, const BoundedChord& b) { return a.last == b.last; }),
        chords.end());
    for (BoundedChord& chord : chords) chord.sine = 1.0;
}

std::vector<BoundedChord> spline_chords(const Spline& spline, Bounds bounds) {
    detail::require_consistent(spline);
    double magnitude = 0.0;
    for (const Point2& pole : spline.poles)
        magnitude = std::max(magnitude, pole.cwiseAbs().maxCoeff());
    bounds.tolerance = std::max(bounds.tolerance, finest_tolerance * magnitude);
    std::vector<BoundedChord> chords;
    detail::for_each_span(spline, [&](int span) {
        append_piece(detail::bezier_piece(spline, span), bounds, deepest_bisection, chords);
    });
    constexpr std::size_t fewest_chords = 4;
    if (chords.size() < fewest_chords && spline.poles.front() == spline.poles.back())
        split_in_quarters(spline, chords);
    return chords;
}

std::vector<BoundedChord> chords_of(const Curve& curve, const Bounds& bounds) {
    require_tolerance(bounds.tolerance);
    return std::visit(
        Overloaded{[](const Line&) {
                       return std::vector<BoundedChord>{{1.0, 0.0, 0.0}};
                   },
                   [&](const Arc& arc) { return arc_chords(arc, bounds); },
                   [&](const EllipticalArc& arc) { return ellipse_chords(arc, bounds); },
                   [&](const Spline& spline) { return spline_chords(spline, bounds); }},
        curve);
}

}  // namespace

std::vector<detail::BoundedChord> detail::bounded_chords(const Curve& curve, double tolerance,
                                                         double most_sine) {
    return chords_of(curve, {tolerance, most_sine});
}

std::vector<double> chord_parameters(const Curve& curve, double tolerance) {
    const std::vector<BoundedChord> chords = chords_of(curve, {tolerance, -1.0});
    std::vector<double> parameters{domain(curve).first};
    parameters.reserve(chords.size() + 1);
    for (const BoundedChord& chord : chords) parameters.push_back(chord.last);
    return parameters;
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
