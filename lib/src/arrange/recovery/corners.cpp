#include "arrange/recovery/corners.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <optional>

namespace planform::arrange {
namespace {

/// Gap between two curves that counts as none, in cells: far above the rounding of coordinates, far
/// below anything that matters.
constexpr double exact_gap = 1e-3;
constexpr double resolved_cells = 8.0;
/// Below this sine of the angle between two curves, chords may turn the other way than the curves.
constexpr double clear_corner_sine = 0.1;
/// A search for a tangency that ends with a larger sine than this stopped at the end of a spline.
constexpr double tangent_sine = 1e-5;

/// A run's curve as Newton's method wants it, with the map from its parameter to the carrier's.
struct Stage {
    Curve curve;
    double guess;
    double offset;
    double scale;

    double on_carrier(double parameter) const { return offset + scale * parameter; }
};

class CornerFinder {
  public:
    CornerFinder(const RecoveryInput& input, const Run& before, const Run& after)
        : in_(input),
          before_(before),
          after_(after),
          a_(carrier(before)),
          b_(carrier(after)),
          here_(0.5 * (before.end_vertex + after.begin_vertex)),
          reach_(reach(before.end_tolerance) + reach(after.begin_tolerance) +
                 resolution(input.grid)) {}

    Corner find() const {
        if (before_.end_at_node && after_.begin_at_node) {
            const Corner node = corner(before_.end, after_.begin);
            if (node.is_exact) return node;
            if (const auto near = near_node()) return *near;
        }
        if (const auto crossing = find_crossing(true)) return *crossing;
        if (const auto tangency = find_tangency()) return *tangency;
        const Corner nearest = nearest_to_vertex();
        // Chords of curves that cross at a tiny angle may turn either way at their only corner. It
        // stays in doubt: where the two are one as far as the grid tells, neither is wanted.
        const bool passes = nearest.gap <= resolution(in_.grid) && !nearest.at_node;
        if (passes && !nearest.is_exact) {
            if (std::optional<Corner> crossing = find_crossing(false)) {
                crossing->is_exact = false;
                return *crossing;
            }
        }
        return nearest;
    }

  private:
    const Carrier& carrier(const Run& run) const {
        return in_.set.carriers[static_cast<std::size_t>(run.carrier)];
    }

    /// How far from a chord's line its curve may meet that of another. Where long chords cross, the
    /// sine between their curves is up to twice that between the chords: they are settled.
    double reach(double tolerance) const {
        return tolerance > in_.finest ? 2.0 * tolerance : tolerance;
    }

    Corner corner(double end, double begin) const {
        const double gap = (a_.position(end) - b_.position(begin)).norm();
        return {end, begin, gap, gap <= exact_gap * in_.grid.cell(), false};
    }

    /// Two nodes less than the grid resolves apart: what lay between them is gone, and one of the
    /// two curves goes on to the end of the other.
    std::optional<Corner> near_node() const {
        const double begin = b_.parameter_near(a_.position(before_.end), after_.begin);
        if (b_.extent(after_.begin, begin) <= resolution(in_.grid))
            if (const Corner found = corner(before_.end, begin); found.is_exact) return found;
        const double end = a_.parameter_near(b_.position(after_.begin), before_.end);
        if (a_.extent(before_.end, end) <= resolution(in_.grid))
            if (const Corner found = corner(end, after_.begin); found.is_exact) return found;
        return std::nullopt;
    }

    /// The crossing of the two carriers next to the corner.
    std::optional<Corner> find_crossing(bool turns_alike) const {
        if (before_.carrier == after_.carrier) return find_self_crossing(turns_alike);
        const Stage a = stage(before_, before_.end);
        const Stage b = stage(after_, after_.begin);
        constexpr double anywhere = std::numeric_limits<double>::infinity();
        const auto crossing = refine_crossing(a.curve, a.guess, b.curve, b.guess, anywhere);
        if (!crossing) return std::nullopt;
        // Newton's method may have gone round a circle.
        const double near_end = a_.is_periodic() ? before_.end : a.on_carrier(crossing->t);
        const double near_begin = b_.is_periodic() ? after_.begin : b.on_carrier(crossing->u);
        const double end = a_.parameter_near(crossing->point, near_end);
        const double begin = b_.parameter_near(crossing->point, near_begin);
        return accepted_crossing(end, begin, turns_alike);
    }

    /// Splines may cross themselves, the others don't. Newton's method on (p(t) - p(u)) / (t - u),
    /// which leaves out the solution t = u.
    std::optional<Corner> find_self_crossing(bool turns_alike) const {
        if (a_.kind != Carrier::Kind::spline) return std::nullopt;
        const Interval range = domain(a_.curve);
        const double size = range.last - range.first;
        double t = before_.end, u = after_.begin;
        // The loop between the two passes is about as long as it was between the chords.
        const double most_change = 0.5 * std::abs(t - u);
        for (int step = 0; step < 40; ++step) {
            if (std::abs(t - u) <= 1e-9 * size ||
                std::max(std::abs(t - before_.end), std::abs(u - after_.begin)) > most_change)
                return std::nullopt;
            const Vector2 slope = (a_.position(t) - a_.position(u)) / (t - u);
            const Vector2 along_t = a_.direction(t) - slope, along_u = a_.direction(u) - slope;
            const double determinant = cross(along_t, along_u);
            if (determinant == 0.0) return std::nullopt;
            const Vector2 wanted = -(t - u) * slope;
            const double change_t = cross(wanted, along_u) / determinant;
            const double change_u = cross(wanted, along_t) / determinant;
            t = std::clamp(t + change_t, range.first, range.last);
            u = std::clamp(u + change_u, range.first, range.last);
            if (std::max(std::abs(change_t), std::abs(change_u)) <= 1e-14 * size)
                return accepted_crossing(t, u, turns_alike);
        }
        return corner(t, u).is_exact ? accepted_crossing(t, u, turns_alike) : std::nullopt;
    }

    /// The crossing, if the chords could have met there; `turns_alike`: and if it turns to the side
    /// to which they turn.
    std::optional<Corner> accepted_crossing(double end, double begin, bool turns_alike) const {
        const double sine = signed_sine(end, begin);
        const double far = moved(end, begin);
        if (far * std::abs(sine) > reach_ || far > farthest_from_nodes()) return std::nullopt;
        if (turns_alike && std::abs(sine) < clear_corner_sine && turns_otherwise(sine))
            return std::nullopt;
        // Lines that close a wedge thinner than the grid resolves: its tip may lie beyond other
        // edges, and it is left where the grid closes it if that is further off than the tolerance.
        if (both_lines() && far > in_.tolerance) return std::nullopt;
        return corner(end, begin);
    }

    /// Where two curves end that should meet, they cross as far off as the gap between their ends
    /// over the sine of their angle; what is much further off is another of their crossings.
    double farthest_from_nodes() const {
        constexpr double much = 4.0;
        if (!before_.end_at_node || !after_.begin_at_node)
            return std::numeric_limits<double>::infinity();
        const double gap = (a_.position(before_.end) - b_.position(after_.begin)).norm();
        return resolution(in_.grid) + much * gap / std::abs(signed_sine(before_.end, after_.begin));
    }

    bool both_lines() const {
        return a_.kind == Carrier::Kind::line && b_.kind == Carrier::Kind::line;
    }

    /// How far a corner lies from where the chords met. The way along the runs counts for a part:
    /// it begins at parameters found by proportion, but a spline may come by the same place twice.
    double moved(double end, double begin) const {
        constexpr double part = 0.125;
        return std::max({(a_.position(end) - here_).norm(), part * a_.extent(before_.end, end),
                         part * b_.extent(after_.begin, begin)});
    }

    /// Lines: the run itself, so that a step may be as long as half of it. Others: the carrier.
    Stage stage(const Run& run, double guess) const {
        const Carrier& c = carrier(run);
        if (c.kind == Carrier::Kind::line) {
            const double size = run.end - run.begin;
            if (size == 0.0) return {c.curve, guess, 0.0, 1.0};
            return {c.piece(run.begin, run.end), (guess - run.begin) / size, run.begin, size};
        }
        const double scale = c.is_periodic() ? full_turn : 1.0;
        return {c.curve, guess / scale, 0.0, scale};
    }

    /// Sine of the turn from one run to the next at these parameters.
    double signed_sine(double end, double begin) const {
        const Vector2 u = a_.direction(end).normalized();
        const Vector2 v = b_.direction(begin).normalized();
        return before_.forward == after_.forward ? cross(u, v) : -cross(u, v);
    }

    /// Two curves that cross twice nearby turn left at one crossing and right at the other: the
    /// polygon's turn tells which of the two is meant. Edges of a few cells have no direction to
    /// speak of.
    bool turns_otherwise(double sine) const {
        constexpr double shortest = 16.0;
        const Vector2 &u = before_.end_edge, &v = after_.begin_edge;
        if (std::min(u.norm(), v.norm()) < shortest) return false;
        return sine * cross(u, v) < 0.0;
    }

    /// The place where the two carriers run in parallel, if they are one there as far as the grid
    /// tells. Newton's method on the angle between them, whose slope is the difference of
    /// curvatures.
    std::optional<Corner> find_tangency() const {
        if (before_.carrier == after_.carrier) return std::nullopt;
        double t = before_.end;
        double u = b_.parameter_near(a_.position(t), after_.begin);
        for (int step = 0; step < 20; ++step) {
            const Vector2 a1 = a_.direction(t), b1 = b_.direction(u);
            const double square_a = a1.squaredNorm(), square_b = b1.squaredNorm();
            if (square_a == 0.0 || square_b == 0.0) return std::nullopt;
            const double angle = std::atan(cross(b1, a1) / b1.dot(a1));
            const double slope =
                cross(a1, a_.second_derivative(t)) / square_a -
                cross(b1, b_.second_derivative(u)) / square_b * a1.dot(b1) / square_b;
            if (slope == 0.0) return std::nullopt;
            const double next = limited(a_, t - angle / slope);
            const double change = next - t;
            // At distance d from the tangency the curves are d^2 / 2 times the difference of
            // curvatures apart; chords that met lie within the reach there. Where the curvatures
            // are all but the same the curves are one over a stretch, and no point of it is the
            // tangency.
            const double bend = std::abs(slope) / std::sqrt(square_a);
            const double most_bend = std::max({bend, curvature(a_, t), curvature(b_, u)});
            const double distance = moved(next, u);
            const double square = 0.5 * distance * distance;
            if (!(bend * square <= 4.0 * reach_ && most_bend * square <= 64.0 * reach_))
                return std::nullopt;
            t = next;
            u = b_.parameter_near(a_.position(t), u);
            // Beyond the end of a spline nothing is beside the other curve any more.
            if (is_at_end(b_, u)) t = limited(a_, a_.parameter_near(b_.position(u), t));
            if (std::abs(change) * std::sqrt(square_a) <= 1e-6 * in_.grid.cell()) break;
        }
        const Corner found = corner(t, u);
        if (found.gap > resolution(in_.grid) || std::abs(signed_sine(t, u)) > tangent_sine)
            return std::nullopt;
        return found;
    }

    static double curvature(const Carrier& c, double parameter) {
        const Vector2 first = c.direction(parameter);
        const double square = first.squaredNorm();
        return std::abs(cross(first, c.second_derivative(parameter))) /
               (square * std::sqrt(square));
    }

    static bool is_at_end(const Carrier& c, double parameter) {
        if (c.kind != Carrier::Kind::spline) return false;
        const Interval range = domain(c.curve);
        return parameter == range.first || parameter == range.last;
    }

    static double limited(const Carrier& c, double parameter) {
        if (c.kind != Carrier::Kind::spline) return parameter;
        const Interval range = domain(c.curve);
        return std::clamp(parameter, range.first, range.last);
    }

    Corner nearest_to_vertex() const {
        Point2 here = here_;
        if (before_.end_at_node) here = a_.position(before_.end);
        if (after_.begin_at_node) here = b_.position(after_.begin);
        const double end = before_.end_at_node ? before_.end : a_.parameter_near(here, before_.end);
        const double begin =
            after_.begin_at_node ? after_.begin : b_.parameter_near(here, after_.begin);
        Corner nearest = corner(end, begin);
        nearest.at_node = before_.end_at_node && after_.begin_at_node;
        return nearest;
    }

    const RecoveryInput& in_;
    const Run& before_;
    const Run& after_;
    const Carrier& a_;
    const Carrier& b_;
    Point2 here_;
    double reach_;
};

}  // namespace

double resolution(const grid::Grid& grid) { return resolved_cells * grid.cell(); }

Corner find_corner(const RecoveryInput& input, const Run& before, const Run& after) {
    return CornerFinder(input, before, after).find();
}

}  // namespace planform::arrange
