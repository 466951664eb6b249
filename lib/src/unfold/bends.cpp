/// The bends of a blank: lines, directions, lengths.

#include <algorithm>
#include <cmath>

#include "unfold/blank.hpp"

namespace planform::unfolding {

namespace {

/// Bends count as one if they lie on one line within this, mm, and turn alike (rad, mm).
constexpr double one_line = 1e-4;
constexpr double same_turn = 1e-6;
/// Pieces of a line nearer to each other than this, mm, are one.
constexpr double touching = 1e-9;

/// A directed straight line in the blank.
struct Ray {
    Point2 origin;
    Vector2 direction;
    double across(const Point2& place) const { return cross(direction, place - origin); }
    double along(const Point2& place) const { return direction.dot(place - origin); }
};

/// Where a curve crosses a line: positions along it.
void add_crossings(const Curve& curve, const Ray& ray, double tolerance,
                   std::vector<double>& crossings) {
    if (const Line* line = std::get_if<Line>(&curve)) {
        const double first = ray.across(line->start), second = ray.across(line->end);
        if ((first >= 0.0) == (second >= 0.0)) return;
        const double share = first / (first - second);
        crossings.push_back(ray.along(line->start + share * (line->end - line->start)));
        return;
    }
    const std::vector<double> parameters = chord_parameters(curve, tolerance);
    for (std::size_t i = 0; i + 1 < parameters.size(); ++i) {
        double low = parameters[i], high = parameters[i + 1];
        const double first = ray.across(point_at(curve, low));
        const double second = ray.across(point_at(curve, high));
        // An end on the line counts as one side of it, so that chains cross as often as they do.
        if ((first >= 0.0) == (second >= 0.0)) continue;
        for (int step = 0; step < 80 && high > low; ++step) {
            const double middle = 0.5 * (low + high);
            if (middle == low || middle == high) break;
            ((ray.across(point_at(curve, middle)) >= 0.0) == (first >= 0.0) ? low : high) = middle;
        }
        crossings.push_back(ray.along(point_at(curve, 0.5 * (low + high))));
    }
}

class BendMaker {
  public:
    explicit BendMaker(const Development& development) : d_(development) {}

    std::vector<Bend> run() {
        for (const Turn& turn : d_.turns) {
            Bend bend = bend_of(turn);
            if (!joined_to_known(bend)) bends_.push_back(std::move(bend));
        }
        const auto key = [](const Bend& bend) {
            const std::vector<Line>& lines = bend.lines.empty() ? bend.limits : bend.lines;
            if (lines.empty()) return Point2(0.0, 0.0);
            return Point2(0.5 * (lines.front().start + lines.back().end));
        };
        std::stable_sort(bends_.begin(), bends_.end(), [&](const Bend& a, const Bend& b) {
            const Point2 p = key(a), q = key(b);
            if (std::abs(p.x() - q.x()) > one_line) return p.x() < q.x();
            return p.y() < q.y() - one_line;
        });
        for (std::size_t i = 0; i < bends_.size(); ++i) bends_[i].number = static_cast<int>(i) + 1;
        return std::move(bends_);
    }

  private:
    Bend bend_of(const Turn& turn) const;
    Ray middle_line(const Turn& turn) const;
    std::vector<Line> pieces(const Turn& turn, const Ray& ray) const;
    bool joined_to_known(const Bend& bend);

    const Development& d_;
    std::vector<Bend> bends_;
};

/// The ruling in the middle of a turn, from the side of smaller coordinates.
Ray BendMaker::middle_line(const Turn& turn) const {
    const Panel& panel = d_.panel(turn.panels.front());
    const double turn_sign = panel.bends_up() ? -1.0 : 1.0;
    Ray ray;
    if (panel.kind() == SurfaceKind::cone) {
        const double angle = -turn_sign * turn.middle() * std::sin(panel.half_angle());
        ray.origin = panel.placement * Point2(0.0, 0.0);
        ray.direction = panel.placement.linear() * Vector2(std::cos(angle), std::sin(angle));
        return ray;
    }
    const double x = turn_sign * panel.neutral_radius() * turn.middle();
    ray.origin = panel.placement * Point2(x, 0.0);
    ray.direction = panel.placement.linear() * Vector2(0.0, 1.0);
    if (ray.direction.x() < -1e-9 ||
        (std::abs(ray.direction.x()) <= 1e-9 && ray.direction.y() < 0.0))
        ray.direction = -ray.direction;
    return ray;
}

std::vector<Line> BendMaker::pieces(const Turn& turn, const Ray& ray) const {
    std::vector<double> crossings;
    for (const int index : turn.panels)
        for (const Side& side : d_.sides_of(index)) {
            if (side.twin >= 0) {
                const int beyond = d_.side(side.twin).panel;
                if (std::find(turn.panels.begin(), turn.panels.end(), beyond) != turn.panels.end())
                    continue;
            }
            for (const Curve& curve : side.curves)
                add_crossings(transformed(curve, d_.panel(side.panel).placement), ray,
                              std::max(0.01 * d_.tolerance, 1e-9 * d_.body.size), crossings);
        }
    std::sort(crossings.begin(), crossings.end());
    std::vector<Line> lines;
    for (std::size_t i = 0; i + 1 < crossings.size(); i += 2) {
        if (crossings[i + 1] - crossings[i] <= touching) continue;
        lines.push_back({ray.origin + crossings[i] * ray.direction,
                         ray.origin + crossings[i + 1] * ray.direction});
    }
    return lines;
}

Bend BendMaker::bend_of(const Turn& turn) const {
    const Panel& panel = d_.panel(turn.panels.front());
    Bend bend;
    bend.kind = turn.kind(panel);
    bend.angle = turn.angle;
    bend.inside_radius = turn.inside_radius;
    bend.half_angle = panel.half_angle();
    bend.up = panel.bends_up();
    bend.allowance = turn.allowance;
    bend.deduction =
        bend_deduction(turn.allowance, d_.skin.thickness, turn.inside_radius, turn.angle);
    bend.k_factor = turn.neutral_depth / d_.skin.thickness;
    for (const int index : turn.panels) {
        const int number = d_.body.number(d_.panel(index).face());
        if (number > 0) bend.faces.push_back(number);
        for (const Side& side : d_.sides_of(index)) {
            if (side.twin < 0) continue;
            const int beyond = d_.side(side.twin).panel;
            if (std::find(turn.panels.begin(), turn.panels.end(), beyond) != turn.panels.end())
                continue;
            bend.limits.push_back(
                {d_.panel(index).in_blank(side.start), d_.panel(index).in_blank(side.end)});
        }
    }
    std::sort(bend.faces.begin(), bend.faces.end());
    if (bend.kind != BendKind::roll) {
        bend.lines = pieces(turn, middle_line(turn));
    }
    return bend;
}

/// A bend that a hole or a relief parts, as the press sees it: one.
bool BendMaker::joined_to_known(const Bend& bend) {
    if (bend.kind != BendKind::bend || bend.lines.empty()) return false;
    for (Bend& known : bends_) {
        if (known.kind != BendKind::bend || known.lines.empty() || known.up != bend.up ||
            std::abs(known.angle - bend.angle) > same_turn ||
            std::abs(known.inside_radius - bend.inside_radius) > same_turn)
            continue;
        const Line& line = known.lines.front();
        const Ray ray{line.start, (line.end - line.start).normalized()};
        if (std::abs(ray.across(bend.lines.front().start)) > one_line ||
            std::abs(ray.across(bend.lines.back().end)) > one_line)
            continue;
        known.lines.insert(known.lines.end(), bend.lines.begin(), bend.lines.end());
        std::sort(known.lines.begin(), known.lines.end(), [&](const Line& a, const Line& b) {
            return ray.along(a.start) < ray.along(b.start);
        });
        known.limits.insert(known.limits.end(), bend.limits.begin(), bend.limits.end());
        known.faces.insert(known.faces.end(), bend.faces.begin(), bend.faces.end());
        std::sort(known.faces.begin(), known.faces.end());
        return true;
    }
    return false;
}

}  // namespace

std::vector<Bend> bends_of(const Development& development) { return BendMaker(development).run(); }

}  // namespace planform::unfolding
