#include "offset/smooth_curve.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace planform::offset_detail {
namespace {

/// A derivative smaller than this share of the curve's usual one counts as none.
constexpr double standing_still = 1e-7;
/// Where a curve stands still its direction is taken this share of the stretch further in.
constexpr double inset = 1e-4;
/// Tangents that differ by more (rad) make a crease: above the noise of curves fitted in pieces.
constexpr double crease_angle = 1e-6;
/// An ellipse is not parted at an axis this near (in its parameter) to its end.
constexpr double least_stretch = 1e-9;

double curvature_of(const Vector2& first, const Vector2& second) {
    const double speed = first.norm();
    return cross(first, second) / (speed * speed * speed);
}

/// The longest derivative at the ends and the middle: what is usual on the stretch.
double usual_speed(const detail::BezierPiece& piece) {
    double speed = 0.0;
    for (const double share : {0.0, 0.5, 1.0})
        speed = std::max(
            speed, piece.evaluate(piece.first + share * (piece.last - piece.first)).first.norm());
    return speed;
}

Place place_on(const detail::BezierPiece& piece, double usual, double t) {
    const detail::Jet jet = piece.evaluate(t);
    Place place{jet.point, jet.first, Vector2::UnitX(), 0.0};
    const double speed = jet.first.norm();
    if (speed > standing_still * usual) {
        place.tangent = jet.first / speed;
        place.curvature = curvature_of(jet.first, jet.second);
        return place;
    }
    const double step = inset * (piece.last - piece.first);
    const bool at_end = t > 0.5 * (piece.first + piece.last);
    const detail::Jet inside = piece.evaluate(at_end ? t - step : t + step);
    const Vector2 way =
        at_end ? Vector2(jet.point - inside.point) : Vector2(inside.point - jet.point);
    if (way.norm() > 0.0) place.tangent = way.normalized();
    if (inside.first.norm() > 0.0) place.curvature = curvature_of(inside.first, inside.second);
    return place;
}

std::vector<detail::BezierPiece> pieces_of(const Spline& spline) {
    std::vector<detail::BezierPiece> pieces;
    pieces.reserve(spline.poles.size() - static_cast<std::size_t>(spline.degree));
    detail::for_each_span(spline,
                          [&](int span) { pieces.push_back(detail::bezier_piece(spline, span)); });
    return pieces;
}

/// True if all legs of the control polygon go forward: the curve then does so, too.
bool runs_on(const detail::BezierPiece& piece) {
    if (piece.rational) return false;
    const Vector2 chord = piece.end() - piece.start();
    for (int i = 0; i < piece.degree; ++i)
        if (chord.dot(piece.control_point(i + 1) - piece.control_point(i)) <= 0.0) return false;
    return true;
}

/// Where within a piece a spline stands still and turns back: minima of its speed that are none.
void find_cusps(const detail::BezierPiece& piece, std::vector<double>& found) {
    if (piece.degree < 2 || runs_on(piece)) return;
    constexpr int samples = 16;
    const auto squared_speed = [&](double t) { return piece.evaluate(t).first.squaredNorm(); };
    const double width = piece.last - piece.first;
    double usual = 0.0;
    std::array<double, samples + 1> speeds;
    for (int i = 0; i <= samples; ++i) {
        speeds[static_cast<std::size_t>(i)] = squared_speed(piece.first + width * i / samples);
        usual = std::max(usual, speeds[static_cast<std::size_t>(i)]);
    }
    for (int i = 1; i < samples; ++i) {
        const auto k = static_cast<std::size_t>(i);
        if (speeds[k] > speeds[k - 1] || speeds[k] > speeds[k + 1] || speeds[k] > 0.05 * usual)
            continue;
        double low = piece.first + width * (i - 1) / samples;
        double high = piece.first + width * (i + 1) / samples;
        for (int step = 0; step < 80; ++step) {
            const double a = low + 0.382 * (high - low), b = low + 0.618 * (high - low);
            (squared_speed(a) < squared_speed(b) ? high : low) =
                squared_speed(a) < squared_speed(b) ? b : a;
        }
        const double t = 0.5 * (low + high);
        if (squared_speed(t) > 1e-10 * usual) continue;
        const double step = 1e-3 * width;
        if (piece.evaluate(t - step).first.dot(piece.evaluate(t + step).first) < 0.0)
            found.push_back(t);
    }
}

}  // namespace

SmoothCurve::SmoothCurve(const Curve& curve) {
    if (const Spline* spline = std::get_if<Spline>(&curve)) {
        pieces_ = pieces_of(*spline);
        breaks_.push_back(pieces_.front().first);
        for (const detail::BezierPiece& piece : pieces_) {
            breaks_.push_back(piece.last);
            usual_speeds_.push_back(usual_speed(piece));
        }
        return;
    }
    curve_ = curve;
    breaks_.push_back(0.0);
    // The curvature of an ellipse is greatest and least on its axes, nowhere between.
    if (const EllipticalArc* arc = std::get_if<EllipticalArc>(&curve_)) {
        const double quarter = 0.5 * pi;
        const double from = std::min(arc->start_angle, arc->start_angle + arc->sweep) / quarter;
        const double to = std::max(arc->start_angle, arc->start_angle + arc->sweep) / quarter;
        for (double k = std::floor(from) + 1.0; k < to; k += 1.0) {
            const double t = (k * quarter - arc->start_angle) / arc->sweep;
            if (t > least_stretch && t < 1.0 - least_stretch) breaks_.push_back(t);
        }
        std::sort(breaks_.begin(), breaks_.end());
    }
    breaks_.push_back(1.0);
}

Place SmoothCurve::at(std::size_t stretch, double t) const {
    if (!pieces_.empty()) return place_on(pieces_[stretch], usual_speeds_[stretch], t);
    const Vector2 first = derivative_at(curve_, t);
    return {point_at(curve_, t), first, first.normalized(),
            curvature_of(first, second_derivative_at(curve_, t))};
}

std::vector<double> creases(const Curve& curve) {
    std::vector<double> found;
    const Spline* spline = std::get_if<Spline>(&curve);
    if (!spline) return found;
    const std::vector<detail::BezierPiece> pieces = pieces_of(*spline);
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        find_cusps(pieces[i], found);
        if (i + 1 == pieces.size()) break;
        const double knot = pieces[i].last;
        const Vector2 before = place_on(pieces[i], usual_speed(pieces[i]), knot).tangent;
        const Vector2 after = place_on(pieces[i + 1], usual_speed(pieces[i + 1]), knot).tangent;
        if (before.dot(after) < 0.0 || std::abs(cross(before, after)) > crease_angle)
            found.push_back(knot);
    }
    return found;
}

Place start_place(const Curve& curve) {
    if (const Line* line = std::get_if<Line>(&curve))
        return {line->start, line->end - line->start, (line->end - line->start).normalized(), 0.0};
    if (const Arc* arc = std::get_if<Arc>(&curve)) {
        const double turn = arc->sweep < 0.0 ? -1.0 : 1.0;
        const Vector2 out(std::cos(arc->start_angle), std::sin(arc->start_angle));
        const Vector2 tangent = turn * Vector2(-out.y(), out.x());
        return {arc->center + arc->radius * out, tangent, tangent, turn / arc->radius};
    }
    if (const Spline* spline = std::get_if<Spline>(&curve)) {
        const detail::BezierPiece piece = detail::bezier_piece(*spline, spline->degree);
        return place_on(piece, usual_speed(piece), piece.first);
    }
    const SmoothCurve smooth(curve);
    return smooth.at(0, smooth.stretch(0).first);
}

Place end_place(const Curve& curve) {
    if (const Line* line = std::get_if<Line>(&curve))
        return {line->end, line->end - line->start, (line->end - line->start).normalized(), 0.0};
    if (const Arc* arc = std::get_if<Arc>(&curve)) {
        const double turn = arc->sweep < 0.0 ? -1.0 : 1.0;
        const double angle = arc->start_angle + arc->sweep;
        const Vector2 out(std::cos(angle), std::sin(angle));
        const Vector2 tangent = turn * Vector2(-out.y(), out.x());
        return {arc->center + arc->radius * out, tangent, tangent, turn / arc->radius};
    }
    if (const Spline* spline = std::get_if<Spline>(&curve)) {
        const detail::BezierPiece piece =
            detail::bezier_piece(*spline, static_cast<int>(spline->poles.size()) - 1);
        return place_on(piece, usual_speed(piece), piece.last);
    }
    const SmoothCurve smooth(curve);
    const std::size_t last = smooth.stretches() - 1;
    return smooth.at(last, smooth.stretch(last).last);
}

}  // namespace planform::offset_detail
