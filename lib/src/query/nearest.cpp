#include "query/nearest.hpp"

#include <algorithm>
#include <cmath>
#include <memory>

namespace planform::query {

namespace {

using offset_detail::Atom;
using offset_detail::Bow;
using PiecePointer = std::shared_ptr<const detail::BezierPiece>;

/// How the squared distance from a point changes along a polynomial piece, as far as its control
/// points tell. Half its second derivative is |c'|^2 + (c - p) c''; c, c' and c'' lie in the hulls
/// of the control points, of their first and of their second differences.
enum class Shape { one_minimum, ends, unknown };

Shape shape_of(const detail::BezierPiece& piece, const Point2& point) {
    if (piece.rational || piece.degree < 1) return Shape::unknown;
    const int n = piece.degree;
    const Vector2 chord = piece.end() - piece.start();
    const double length = chord.norm();
    if (length == 0.0) return Shape::unknown;
    double least_speed = std::numeric_limits<double>::infinity(), most_speed = 0.0;
    for (int i = 0; i < n; ++i) {
        const Vector2 leg = piece.control_point(i + 1) - piece.control_point(i);
        least_speed = std::min(least_speed, leg.dot(chord) / length);
        most_speed = std::max(most_speed, leg.squaredNorm());
    }
    if (!(least_speed > 0.0)) return Shape::unknown;
    double least = 0.0, most = -std::numeric_limits<double>::infinity();
    for (int j = 0; j + 2 <= n; ++j) {
        const Vector2 bend =
            piece.control_point(j + 2) - 2.0 * piece.control_point(j + 1) + piece.control_point(j);
        for (int i = 0; i <= n; ++i) {
            const double product = (piece.control_point(i) - point).dot(bend);
            least = std::min(least, product);
            most = std::max(most, product);
        }
    }
    const double bends = static_cast<double>(n) * (n - 1), speeds = static_cast<double>(n) * n;
    if (bends * least + speeds * least_speed * least_speed > 0.0) return Shape::one_minimum;
    if (n >= 2 && bends * most + speeds * most_speed < 0.0) return Shape::ends;
    return Shape::unknown;
}

/// Where the distance stops falling; Newton's method, bisecting where it leaves the bracket.
double foot_on(const detail::BezierPiece& piece, const Point2& point) {
    double low = piece.first, high = piece.last;
    const auto falls = [&](double t) {
        const detail::Jet jet = piece.evaluate(t);
        return (jet.point - point).dot(jet.first) < 0.0;
    };
    if (!falls(low)) return low;
    if (falls(high)) return high;
    double t = 0.5 * (low + high);
    for (int step = 0; step < 60; ++step) {
        const detail::Jet jet = piece.evaluate(t);
        const Vector2 offset = jet.point - point;
        const double slope = offset.dot(jet.first);
        (slope < 0.0 ? low : high) = t;
        const double bend = jet.first.squaredNorm() + offset.dot(jet.second);
        double next = bend > 0.0 ? t - slope / bend : low - 1.0;
        if (!(next > low && next < high)) next = 0.5 * (low + high);
        if (std::abs(next - t) <= 4e-16 * std::max(std::abs(low), std::abs(high))) return next;
        t = next;
    }
    return t;
}

}  // namespace

void NearestSearch::offer(std::uint32_t index) {
    const auto& [atom, curve] = pieces_.pieces[index];
    const Bow* bow = std::get_if<Bow>(&atom.shape);
    if (atom.is_line()) return offer_line(atom, curve);
    if (bow && bow->is_circle) return offer_circle(atom, *bow, curve);
    const double least = offset_detail::point_to_segment(point_, atom) - atom.height;
    if (least > 0.0 && least * least >= squared_) return;
    if (bow) return offer_curve(curve);
    offer_bezier(*std::get<PiecePointer>(atom.shape), curve);
}

void NearestSearch::take(const Point2& place, int curve, double parameter) {
    const double squared = (place - point_).squaredNorm();
    if (!(squared < squared_)) return;
    squared_ = squared;
    place_ = place;
    curve_ = curve;
    parameter_ = parameter;
}

void NearestSearch::offer_line(const Atom& atom, int curve) {
    const Vector2 chord = atom.end - atom.start;
    const double share = std::clamp(chord.dot(point_ - atom.start) / chord.squaredNorm(), 0.0, 1.0);
    const Point2 place = share < 1.0 ? Point2(atom.start + share * chord) : atom.end;
    take(place, curve, std::numeric_limits<double>::quiet_NaN());
}

void NearestSearch::offer_circle(const Atom& atom, const Bow& bow, int curve) {
    const Vector2 outward = point_ - bow.center;
    const double turn = bow.to < bow.from ? -1.0 : 1.0;
    // In the wedge of the piece, which is narrower than a half turn.
    const bool beside = turn * cross(atom.start - bow.center, outward) >= 0.0 &&
                        turn * cross(outward, atom.end - bow.center) >= 0.0 &&
                        outward.dot(atom.start + atom.end - 2.0 * bow.center) >= 0.0;
    const double distance = outward.norm();
    constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
    if (beside && distance > 0.0) {
        const double radius = bow.u.x();
        const double gap = distance - radius;
        if (gap * gap < squared_) take(bow.center + radius / distance * outward, curve, unknown);
        return;
    }
    take(atom.start, curve, unknown);
    take(atom.end, curve, unknown);
}

void NearestSearch::offer_bezier(const detail::BezierPiece& piece, int curve) {
    switch (shape_of(piece, point_)) {
        case Shape::one_minimum: {
            const double t = foot_on(piece, point_);
            return take(piece.evaluate(t).point, curve, t);
        }
        case Shape::ends:
            take(piece.start(), curve, piece.first);
            return take(piece.end(), curve, piece.last);
        case Shape::unknown:
            return offer_curve(curve);
    }
}

void NearestSearch::offer_curve(int curve) {
    if (settled_ == curve) return;
    settled_ = curve;
    const Curve& whole = pieces_.curves[static_cast<std::size_t>(curve)].curve;
    const double t = nearest_parameter(whole, point_);
    take(point_at(whole, t), curve, t);
}

NearestPlace NearestSearch::result() const {
    NearestPlace result;
    result.distance = std::sqrt(squared_);
    result.point = place_;
    result.parameter = parameter_;
    if (curve_ < 0) return result;
    const OutlineCurve& curve = pieces_.curves[static_cast<std::size_t>(curve_)];
    result.profile = curve.profile;
    result.contour = curve.contour;
    result.curve = curve.number;
    if (std::isnan(result.parameter)) result.parameter = nearest_parameter(curve.curve, place_);
    return result;
}

}  // namespace planform::query
