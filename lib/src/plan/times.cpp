#include <algorithm>
#include <cmath>

#include "planform/error.hpp"
#include "planform/plan.hpp"

namespace planform {
namespace {

/// Directions that differ by more (rad) are a corner: one degree.
constexpr double most_turn = pi / 180.0;
/// A change of speed may need this much more than the way there is, relative: rounding.
constexpr double speed_rounding = 1e-9;

void check(const Motion& motion) {
    if (!(motion.speed > 0.0) || !std::isfinite(motion.speed))
        throw GeometryError(ErrorKind::invalid_argument,
                            "a speed must be a positive finite number (mm/s)");
    if (!(motion.acceleration > 0.0))
        throw GeometryError(ErrorKind::invalid_argument,
                            "an acceleration must be above 0 (mm/s^2)");
}

/// A piece of a way with its own greatest speed.
struct Piece {
    double length;
    double speed;
    Vector2 first;  ///< unit direction at its start
    Vector2 last;
};

std::vector<Piece> pieces_of(const std::vector<Curve>& curves, const Motion& motion,
                             double tolerance) {
    std::vector<Piece> pieces;
    for (const Curve& curve : curves) {
        for (const Curve& part : fit_arcs(curve, tolerance)) {
            const double reach = length(part);
            if (reach <= 0.0) continue;
            double speed = motion.speed;
            if (const Arc* arc = std::get_if<Arc>(&part))
                speed = std::min(speed, std::sqrt(motion.acceleration * arc->radius));
            const Interval range = domain(part);
            pieces.push_back({reach, speed, derivative_at(part, range.first).normalized(),
                              derivative_at(part, range.last).normalized()});
        }
    }
    return pieces;
}

}  // namespace

double move_time(double length, const Motion& motion, double from, double to) {
    check(motion);
    const auto is_speed = [&](double v) {
        return v >= 0.0 && v <= motion.speed * (1.0 + speed_rounding);
    };
    if (!(length >= 0.0) || !std::isfinite(length) || !is_speed(from) || !is_speed(to))
        throw GeometryError(
            ErrorKind::invalid_argument,
            "a way is a finite length of 0 or more (mm), and speeds at its ends lie "
            "between 0 and the greatest");
    if (length == 0.0 && from == to) return 0.0;
    if (std::isinf(motion.acceleration)) return length / motion.speed;
    const double a = motion.acceleration;
    // v^2 changes by 2 a s.
    const double change = std::abs(from * from - to * to);
    if (change > 2.0 * a * length + speed_rounding * (from * from + to * to))
        throw GeometryError(ErrorKind::invalid_argument,
                            "the way is too short for the change of speed");
    const double peak = std::sqrt(0.5 * (from * from + to * to) + a * length);
    if (peak <= motion.speed) return std::max(0.0, 2.0 * peak - from - to) / a;
    const double v = motion.speed;
    const double ramps = (2.0 * v * v - from * from - to * to) / (2.0 * a);
    return (2.0 * v - from - to) / a + (length - ramps) / v;
}

double path_time(const std::vector<Curve>& curves, const Motion& motion, double tolerance) {
    check(motion);
    const std::vector<Piece> pieces = pieces_of(curves, motion, tolerance);
    if (pieces.empty()) return 0.0;
    // Greatest speed where two pieces meet; then what can be reached from before and from behind.
    std::vector<double> speeds(pieces.size() + 1, 0.0);
    for (std::size_t i = 1; i < pieces.size(); ++i) {
        const Vector2 &in = pieces[i - 1].last, &out = pieces[i].first;
        const bool is_corner = std::abs(std::atan2(cross(in, out), in.dot(out))) > most_turn;
        speeds[i] = is_corner ? 0.0 : std::min(pieces[i - 1].speed, pieces[i].speed);
    }
    double sum = 0.0;
    if (std::isinf(motion.acceleration)) {
        for (const Piece& piece : pieces) sum += piece.length / piece.speed;
        return sum;
    }
    const auto reached = [&](double speed, double length) {
        return std::sqrt(speed * speed + 2.0 * motion.acceleration * length);
    };
    for (std::size_t i = 0; i < pieces.size(); ++i)
        speeds[i + 1] = std::min(speeds[i + 1], reached(speeds[i], pieces[i].length));
    for (std::size_t i = pieces.size(); i-- > 0;)
        speeds[i] = std::min(speeds[i], reached(speeds[i + 1], pieces[i].length));
    for (std::size_t i = 0; i < pieces.size(); ++i)
        sum += move_time(pieces[i].length, {pieces[i].speed, motion.acceleration}, speeds[i],
                         speeds[i + 1]);
    return sum;
}

std::vector<CutTime> cut_times(const CutPlan& plan, const MachineFigures& figures,
                               double tolerance) {
    if (!(figures.pierce_time >= 0.0) || !std::isfinite(figures.pierce_time))
        throw GeometryError(ErrorKind::invalid_argument,
                            "the time of a pierce must be a finite number of 0 or more (s)");
    std::vector<CutTime> times;
    times.reserve(plan.cuts.size());
    Point2 at = plan.home;
    for (const Cut& cut : plan.cuts) {
        const bool is_mark = cut.role == CutRole::mark;
        const Motion& motion = is_mark ? figures.marking : figures.cutting;
        CutTime time;
        time.pierce = cut.pierces() * figures.pierce_time;
        time.travel = move_time((cut.pierce() - at).norm(), figures.travel);
        for (std::size_t i = 0; i < cut.stretches.size(); ++i) {
            std::vector<Curve> way;
            if (i == 0) way = cut.entry;
            way.insert(way.end(), cut.stretches[i].begin(), cut.stretches[i].end());
            if (i + 1 == cut.stretches.size()) {
                way.insert(way.end(), cut.over_cut.begin(), cut.over_cut.end());
                way.insert(way.end(), cut.exit.begin(), cut.exit.end());
            } else {
                const Point2 next = start_point(cut.stretches[i + 1].front());
                time.travel += move_time((next - end_point(way.back())).norm(), figures.travel);
            }
            time.cutting += path_time(way, motion, tolerance);
        }
        at = cut.end();
        times.push_back(time);
    }
    return times;
}

}  // namespace planform
