/// Rules of inspection for bends. A wall is taken on the blank: it begins where the bend ends.

#include <algorithm>
#include <cmath>

#include "error/figures.hpp"
#include "planform/error.hpp"
#include "planform/unfold.hpp"

namespace planform {

namespace {

/// So far beyond the end of a bend, of the thickness, it is asked whether there is material.
constexpr double beside = 0.05;
/// Places along a line from which it is measured how far a wall reaches.
constexpr int rays = 9;
/// Chords of the outline, mm, at the most.
constexpr double chord = 1e-3;

using Polygon = std::vector<Point2>;

double distance(const Point2& place, const Point2& from, const Point2& to) {
    const Vector2 along = to - from;
    const double length = along.squaredNorm();
    const double share =
        length > 0.0 ? std::clamp((place - from).dot(along) / length, 0.0, 1.0) : 0.0;
    return (place - from - share * along).norm();
}

/// Between two straight pieces; 0 if they cross.
double distance(const Line& one, const Line& other) {
    const Vector2 a = one.end - one.start, b = other.end - other.start;
    const double s = cross(a, other.start - one.start), t = cross(a, other.end - one.start);
    const double u = cross(b, one.start - other.start), v = cross(b, one.end - other.start);
    if (s * t < 0.0 && u * v < 0.0) return 0.0;
    return std::min(
        {distance(one.start, other.start, other.end), distance(one.end, other.start, other.end),
         distance(other.start, one.start, one.end), distance(other.end, one.start, one.end)});
}

/// Where a ray first meets a closed polygon; infinity if it does not.
double along_ray(const Point2& from, const Vector2& direction, const Polygon& polygon,
                 double beyond) {
    double best = INFINITY;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const Point2& a = polygon[i];
        const Point2& b = polygon[(i + 1) % polygon.size()];
        const double s = cross(direction, a - from), t = cross(direction, b - from);
        if ((s > 0.0) == (t > 0.0)) continue;
        const Point2 crossing = a + s / (s - t) * (b - a);
        const double at = (crossing - from).dot(direction);
        if (at > beyond) best = std::min(best, at);
    }
    return best;
}

bool is_inside(const Point2& place, const std::vector<Polygon>& polygons) {
    bool inside = false;
    for (const Polygon& polygon : polygons)
        for (std::size_t i = 0; i < polygon.size(); ++i) {
            const Point2& a = polygon[i];
            const Point2& b = polygon[(i + 1) % polygon.size()];
            if ((a.y() > place.y()) == (b.y() > place.y())) continue;
            const double x = a.x() + (place.y() - a.y()) / (b.y() - a.y()) * (b.x() - a.x());
            if (x > place.x()) inside = !inside;
        }
    return inside;
}

class BendRules {
  public:
    BendRules(const ProfileSet& outline, std::span<const Bend> bends, double thickness,
              const RuleSet& rules, std::optional<double> least_radius)
        : outline_(outline),
          bends_(bends),
          thickness_(thickness),
          rules_(rules),
          least_radius_(least_radius) {
        const double tolerance = std::min(chord, outline.tolerance());
        for (const Profile& profile : outline.profiles()) {
            outer_.push_back(profile.outer().points(tolerance));
            polygons_.push_back(outer_.back());
            for (const Contour& hole : profile.holes()) {
                holes_.push_back(hole.points(tolerance));
                polygons_.push_back(holes_.back());
            }
        }
    }

    std::vector<Finding> run() {
        for (const Bend& bend : bends_) {
            check_holes(bend);
            check_flanges(bend);
            check_reliefs(bend);
            check_radius(bend);
        }
        std::stable_sort(findings_.begin(), findings_.end(), [](const auto& a, const auto& b) {
            if (a.severity != b.severity) return a.severity > b.severity;
            return a.rule < b.rule;
        });
        return std::move(findings_);
    }

  private:
    std::string name(const Bend& bend) const { return "bend " + std::to_string(bend.number); }
    double limit_of(const Rule& rule) const {
        return rule.unit == LimitUnit::thicknesses ? rule.limit * thickness_ : rule.limit;
    }
    void add(const Rule& rule, const Point2& place, std::optional<double> measured,
             std::optional<double> limit, std::string text) {
        Finding finding;
        finding.rule = rule.kind;
        finding.severity = rule.severity;
        finding.place = place;
        finding.measured = measured;
        finding.limit = limit;
        finding.unit = measured ? "mm" : "";
        finding.profile = 0;
        finding.text = std::move(text);
        findings_.push_back(std::move(finding));
    }
    /// Away from the bend, across one of its limits.
    Vector2 away(const Bend& bend, const Line& limit) const;
    void check_holes(const Bend& bend);
    void check_flanges(const Bend& bend);
    void check_reliefs(const Bend& bend);
    void check_radius(const Bend& bend);

    const ProfileSet& outline_;
    std::span<const Bend> bends_;
    double thickness_;
    const RuleSet& rules_;
    std::optional<double> least_radius_;
    std::vector<Polygon> outer_, holes_, polygons_;
    std::vector<Finding> findings_;
};

Vector2 BendRules::away(const Bend& bend, const Line& limit) const {
    const Vector2 along = (limit.end - limit.start).normalized();
    Vector2 across(-along.y(), along.x());
    // The middle of the bend lies on the other side; of a roll the next limit tells nothing, but
    // the material of the panel lies to the left of the limit, as of every side.
    if (!bend.lines.empty()) {
        const Point2 middle = 0.5 * (bend.lines.front().start + bend.lines.back().end);
        if ((middle - limit.start).dot(across) > 0.0) across = -across;
        return across;
    }
    return -across;
}

void BendRules::check_holes(const Bend& bend) {
    const Rule& rule = rules_.rule(RuleKind::bend_distance);
    if (!rule.enabled) return;
    const double limit = limit_of(rule);
    for (std::size_t h = 0; h < holes_.size(); ++h) {
        double nearest = INFINITY;
        Point2 place = holes_[h].front();
        for (const Line& line : bend.limits)
            for (std::size_t i = 0; i < holes_[h].size(); ++i) {
                const Line piece{holes_[h][i], holes_[h][(i + 1) % holes_[h].size()]};
                const double apart = distance(piece, line);
                if (apart < nearest) {
                    nearest = apart;
                    place = piece.start;
                }
            }
        // Within the bend itself: between its limits.
        for (const Line& line : bend.lines)
            for (const Point2& corner : holes_[h])
                if (distance(corner, line.start, line.end) < 0.5 * bend.allowance) nearest = 0.0;
        if (!(nearest < limit)) continue;
        add(rule, place, nearest, limit,
            nearest > 0.0
                ? "A hole lies " + words::millimetres(nearest) + " from where " + name(bend) +
                      " begins and is drawn out of shape; move it away, or cut it after bending."
                : "A hole lies in " + name(bend) +
                      " and is drawn out of shape; move it away, or cut it after bending.");
        findings_.back().contour = static_cast<int>(h) + 1;
    }
}

void BendRules::check_flanges(const Bend& bend) {
    const Rule& rule = rules_.rule(RuleKind::flange);
    if (!rule.enabled || bend.kind == BendKind::roll) return;
    const double limit = limit_of(rule);
    for (const Line& line : bend.limits) {
        const Vector2 across = away(bend, line);
        // A wall is as wide as its widest place: corners may be cut off.
        double widest = 0.0;
        for (int i = 0; i < rays; ++i) {
            const Point2 from = line.start + (i + 0.5) / rays * (line.end - line.start);
            double reach = INFINITY;
            for (const Polygon& polygon : outer_)
                reach = std::min(reach, along_ray(from, across, polygon, 1e-6 * thickness_));
            for (const Bend& other : bends_)
                for (const Line& next : other.limits) {
                    if (&next == &line) continue;
                    reach = std::min(
                        reach, along_ray(from, across, {next.start, next.end}, 1e-6 * thickness_));
                }
            if (std::isfinite(reach)) widest = std::max(widest, reach);
        }
        if (!(widest < limit)) continue;
        add(rule, 0.5 * (line.start + line.end), widest, limit,
            "A wall reaches " + words::millimetres(widest) + " from where " + name(bend) +
                " begins: too little to lie on the tool; make it longer and cut it back after "
                "bending.");
    }
}

void BendRules::check_reliefs(const Bend& bend) {
    const Rule& rule = rules_.rule(RuleKind::bend_relief);
    if (!rule.enabled || bend.kind == BendKind::roll) return;
    const double step = beside * thickness_;
    for (const Line& line : bend.limits) {
        const Vector2 across = away(bend, line);
        const Vector2 along = (line.end - line.start).normalized();
        for (const bool at_end : {false, true}) {
            const Point2 end = at_end ? line.end : line.start;
            const Point2 next = end + (at_end ? step : -step) * along + step * across;
            if (!is_inside(next, polygons_)) continue;
            // The same bend may go on beyond a split face.
            const bool goes_on =
                std::any_of(bend.limits.begin(), bend.limits.end(), [&](const Line& other) {
                    return &other != &line && distance(next, other.start, other.end) < 2.0 * step;
                });
            if (goes_on) continue;
            add(rule, end, std::nullopt, std::nullopt,
                "The sheet goes on beside the end of " + name(bend) +
                    " without a relief and tears there; cut a relief as wide as the thickness.");
        }
    }
}

void BendRules::check_radius(const Bend& bend) {
    const Rule& rule = rules_.rule(RuleKind::bend_radius);
    if (!rule.enabled || !least_radius_ || bend.inside_radius >= *least_radius_ * (1.0 - 1e-9))
        return;
    const std::vector<Line>& lines = bend.lines.empty() ? bend.limits : bend.lines;
    const Point2 place = lines.empty() ? Point2(outline_.bounds().center())
                                       : Point2(0.5 * (lines.front().start + lines.back().end));
    add(rule, place, bend.inside_radius, *least_radius_,
        "The inside radius of " + name(bend) + ", " + words::millimetres(bend.inside_radius) +
            ", is below the material's least, " + words::millimetres(*least_radius_) +
            ": it cracks; bend it wider.");
}

}  // namespace

std::vector<Finding> bend_findings(const ProfileSet& outline, std::span<const Bend> bends,
                                   double thickness, const RuleSet& rules,
                                   std::optional<double> least_radius) {
    if (!(thickness > 0.0) || !std::isfinite(thickness))
        throw GeometryError(ErrorKind::invalid_argument,
                            "the thickness must be positive and finite (mm)");
    if (least_radius && (!(*least_radius >= 0.0) || !std::isfinite(*least_radius)))
        throw GeometryError(ErrorKind::invalid_argument,
                            "the least inside radius must be 0 or more and finite (mm)");
    return BendRules(outline, bends, thickness, rules, least_radius).run();
}

}  // namespace planform
