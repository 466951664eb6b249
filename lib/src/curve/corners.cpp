#include "curve/corners.hpp"

#include <algorithm>
#include <cmath>

#include "curve/spline.hpp"

namespace planform::detail {
namespace {

/// Angle in rad up to which a jump of the direction is rounding and not a corner.
constexpr double smooth_angle = 1e-7;
/// Relative size below which a derivative or control leg counts as zero.
constexpr double vanishing = 1e-9;

double hull_size(const BezierPiece& piece) {
    Box2 box;
    for (int i = 0; i <= piece.degree; ++i) box.extend(piece.control_point(i));
    return box.diagonal().norm();
}

/// Direction in which a Bezier piece leaves its start (or reaches its end): that of the first
/// control point away from it.
Vector2 end_direction(const BezierPiece& piece, bool at_start) {
    const Point2 base = at_start ? piece.start() : piece.end();
    const double reach = vanishing * hull_size(piece);
    for (int i = 1; i <= piece.degree; ++i) {
        const Vector2 leg = piece.control_point(at_start ? i : piece.degree - i) - base;
        if (leg.norm() > reach) return (at_start ? leg : Vector2(-leg)).normalized();
    }
    return Vector2::UnitX();
}

Tangents spline_tangents(const Spline& spline, double t) {
    const int after = find_span(spline, t);
    int before = after;
    if (t == spline.knots[after])
        while (before > spline.degree && !(spline.knots[before] < t)) --before;
    const BezierPiece going = bezier_piece(spline, after);
    const BezierPiece coming = before == after ? going : bezier_piece(spline, before);
    if (t > going.first && t < going.last) {
        const Vector2 first = evaluate(spline, t, 1).first;
        const double typical = hull_size(going) / (going.last - going.first);
        if (first.norm() > vanishing * typical) return {first.normalized(), first.normalized()};
        BezierPiece left;
        BezierPiece right;
        going.split((t - going.first) / (going.last - going.first), left, right);
        return {end_direction(left, false), end_direction(right, true)};
    }
    const Vector2 leaving = end_direction(going, t < going.last);
    const bool has_before = t > spline.knots.front();
    return {has_before ? end_direction(coming, false) : leaving, leaving};
}

/// True if the derivative may vanish on the piece: it lies in the cone of the control legs (for
/// rational pieces with positive weights too: M. S. Floater, "Derivatives of rational Bezier
/// curves", CAGD 9 (1992)), and that has an open half-plane without zero if all legs go forward.
bool may_stand_still(const BezierPiece& piece) {
    const Vector2 chord = piece.end() - piece.start();
    for (int i = 1; i <= piece.degree; ++i)
        if (!(chord.dot(piece.control_point(i) - piece.control_point(i - 1)) > 0.0)) return true;
    return false;
}

/// Bisects towards the points where the derivative vanishes.
void find_cusps(const BezierPiece& piece, double narrowest, double still,
                std::vector<double>& parameters) {
    if (!may_stand_still(piece)) return;
    const double width = piece.last - piece.first;
    if (width <= narrowest) {
        // A tight turn looks the same from afar, but goes on moving.
        if (hull_size(piece) <= still * width)
            parameters.push_back(0.5 * (piece.first + piece.last));
        return;
    }
    BezierPiece left;
    BezierPiece right;
    piece.split(0.5, left, right);
    find_cusps(left, narrowest, still, parameters);
    find_cusps(right, narrowest, still, parameters);
}

bool is_corner(const Curve& curve, double t) {
    const Tangents tangents = tangents_at(curve, t);
    const double sine = cross(tangents.before, tangents.after);
    return std::abs(std::atan2(sine, tangents.before.dot(tangents.after))) > smooth_angle;
}

/// Whether the direction can jump at a knot: by its multiplicity, or because the curve stands still
/// there (coinciding poles).
bool may_turn_at_knot(const Spline& spline, int span) {
    const double knot = spline.knots[span];
    if (knot_multiplicity(spline, knot) >= spline.degree) return true;
    const BezierPiece piece = bezier_piece(spline, span);
    const double typical = hull_size(piece) / (piece.last - piece.first);
    return evaluate(spline, knot, 1).first.norm() <= vanishing * typical;
}

/// The parameter where the derivative vanishes, from a close guess: Gauss and Newton's step on C' =
/// 0.
double refined_cusp(const BezierPiece& piece, double t) {
    for (int iteration = 0; iteration < 4; ++iteration) {
        const Jet jet = piece.evaluate(t);
        const double bend = jet.second.squaredNorm();
        if (!(bend > 0.0)) break;
        t = std::clamp(t - jet.first.dot(jet.second) / bend, piece.first, piece.last);
    }
    return t;
}

/// Cusps strictly inside one span.
std::vector<double> cusps_inside(const BezierPiece& piece) {
    const double width = piece.last - piece.first;
    const double margin = 1e-6 * width;
    std::vector<double> candidates;
    find_cusps(piece, 1e-8 * width, 1e-6 * hull_size(piece) / width, candidates);
    std::vector<double> cusps;
    for (const double candidate : candidates) {
        const double cusp = refined_cusp(piece, candidate);
        const bool inside = cusp > piece.first + margin && cusp < piece.last - margin;
        // Neighbouring cells of the bisection hold one cusp between them.
        const bool known = !cusps.empty() && std::abs(cusp - cusps.back()) <= margin;
        if (inside && !known &&
            piece.evaluate(cusp - margin).first.dot(piece.evaluate(cusp + margin).first) < 0.0)
            cusps.push_back(cusp);
    }
    return cusps;
}

}  // namespace

Tangents tangents_at(const Curve& curve, double t) {
    if (const Spline* spline = std::get_if<Spline>(&curve)) return spline_tangents(*spline, t);
    const Vector2 tangent = derivative_at(curve, t).normalized();
    return {tangent, tangent};
}

std::vector<double> corner_parameters(const Curve& curve) {
    const Spline* spline = std::get_if<Spline>(&curve);
    if (!spline) return {};
    std::vector<double> parameters;
    const Interval range = domain(curve);
    for_each_span(*spline, [&](int span) {
        const double knot = spline->knots[span];
        if (knot > range.first && may_turn_at_knot(*spline, span) && is_corner(curve, knot))
            parameters.push_back(knot);
        const BezierPiece piece = bezier_piece(*spline, span);
        if (!may_stand_still(piece)) return;
        const std::vector<double> cusps = cusps_inside(piece);
        parameters.insert(parameters.end(), cusps.begin(), cusps.end());
    });
    std::sort(parameters.begin(), parameters.end());
    return parameters;
}

}  // namespace planform::detail
