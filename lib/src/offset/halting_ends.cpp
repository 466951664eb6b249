#include "offset/halting_ends.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "curve/spline.hpp"

namespace planform::offset_detail {
namespace {

/// Of the bound this share is rounding's.
constexpr double rounding_per_bound = 0.5;
/// The shortest stretch that is looked at, as a power of two of the span at the end.
constexpr int finest_halving = 48;

/// What rounding takes the derivative of a Bernstein piece off, at most: the poles carry that of
/// their coordinates, and the derivative is their differences times the degree over the span.
double derivative_rounding(const detail::BezierPiece& piece) {
    double largest = 0.0;
    for (int i = 0; i <= piece.degree; ++i)
        largest = std::max(largest, piece.control_point(i).cwiseAbs().maxCoeff());
    return 2.0 * piece.degree * std::numeric_limits<double>::epsilon() * largest /
           (piece.last - piece.first);
}

/// Where the direction becomes clear, going inside from an end of the piece; the end itself if it
/// is clear there.
double clear_parameter(const detail::BezierPiece& piece, bool from_last, double distance,
                       double bound) {
    const double least_speed =
        std::abs(distance) * derivative_rounding(piece) / (rounding_per_bound * bound);
    const double end = from_last ? piece.last : piece.first;
    const double inside = (from_last ? -1.0 : 1.0) * (piece.last - piece.first);
    if (piece.evaluate(end).first.norm() >= least_speed) return end;
    const Point2 halt = piece.evaluate(end).point;
    double clear = end;
    for (int halving = finest_halving; halving > 1; --halving) {
        const double t = end + std::ldexp(inside, -halving);
        const auto place = piece.evaluate(t);
        if ((place.point - halt).norm() > bound) break;
        clear = t;
        if (place.first.norm() >= least_speed) break;
    }
    return clear;
}

}  // namespace

std::vector<Curve> with_straight_halts(const Spline& spline, double distance, double bound) {
    int first_span = -1, last_span = -1;
    detail::for_each_span(spline, [&](int span) {
        if (first_span < 0) first_span = span;
        last_span = span;
    });
    const Interval range = domain(spline);
    const double from =
        clear_parameter(detail::bezier_piece(spline, first_span), false, distance, bound);
    const double to =
        clear_parameter(detail::bezier_piece(spline, last_span), true, distance, bound);
    std::vector<Curve> curves;
    const auto append_line = [&](const Point2& start, const Point2& end) {
        if (start != end) curves.push_back(Line{start, end});
    };
    const Curve clear =
        from > range.first || to < range.last ? trimmed(spline, from, to) : Curve(spline);
    if (from > range.first) append_line(start_point(spline), start_point(clear));
    curves.push_back(clear);
    if (to < range.last) append_line(end_point(clear), end_point(spline));
    return curves;
}

}  // namespace planform::offset_detail
