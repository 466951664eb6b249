#include "proof/winding_law.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <sstream>
#include <variant>
#include <vector>

#include "proof/side_grid.hpp"

namespace planform::proof {
namespace {

/// Of the tolerance: how far polygons may stand off their curves, and how far off its curve a place
/// is asked about.
constexpr double winding_polygon_share = 0.5, beside = 1.5;
/// Of the tolerance: places nearer than this to a curve lie in a slit that nobody asked for.
constexpr double in_slit = 0.6;
/// Spans of one spline that are looked at one by one in quick; of more, this many places in all.
constexpr std::size_t most_spans = 12;

/// Places along a line.
int places_a_line(Verify verify) { return verify == Verify::full ? 3 : 1; }

/// Parameters of a curve at which places beside it are asked about.
std::vector<double> parameters(const Curve& curve, Verify verify) {
    std::vector<double> ends{domain(curve).first, domain(curve).last};
    int a_part = places_a_line(verify);
    if (const auto* arc = std::get_if<Arc>(&curve))
        a_part *= static_cast<int>(std::ceil(std::abs(arc->sweep) / (0.5 * pi)));
    if (const auto* arc = std::get_if<EllipticalArc>(&curve))
        a_part *= static_cast<int>(std::ceil(std::abs(arc->sweep) / (0.5 * pi)));
    if (const auto* spline = std::get_if<Spline>(&curve)) {
        std::vector<double> knots = spline->knots;
        knots.erase(std::unique(knots.begin(), knots.end()), knots.end());
        const bool are_few = knots.size() - 1 <= most_spans;
        a_part *= 2;
        if (are_few || verify == Verify::full)
            ends = std::move(knots);
        else
            a_part *= static_cast<int>(most_spans);
    }
    std::vector<double> found;
    for (std::size_t k = 0; k + 1 < ends.size(); ++k)
        for (int i = 0; i < a_part; ++i)
            found.push_back(ends[k] + (ends[k + 1] - ends[k]) * (i + 0.5) / a_part);
    return found;
}

class WindingLaw {
  public:
    WindingLaw(const arrange::Input& input,
               const std::function<bool(const arrange::Winding&)>& inside,
               std::span<const Profile> profiles, double tolerance)
        : inside_(inside), tolerance_(tolerance), within_(winding_polygon_share * tolerance) {
        for (const arrange::DirectedCurve& c : input.curves)
            if (c.weight != 0)  // from node to node: chains stay closed
                sides_.add(c.curve, input.nodes[static_cast<std::size_t>(c.start_node)],
                           input.nodes[static_cast<std::size_t>(c.end_node)], within_, c.weight,
                           c.operand);
        sides_.add(profiles, within_, outline);
        sides_.sort_into_cells();
    }

    void ask_beside(const Curve& curve, Verify verify) {
        if (const auto* line = std::get_if<Line>(&curve)) {
            const int count = places_a_line(verify);
            const Vector2 along = line->end - line->start;
            for (int i = 0; i < count; ++i)
                ask_beside(Point2(line->start + (i + 0.5) / count * along), along);
            return;
        }
        if (const auto* arc = std::get_if<Arc>(&curve)) {
            for (const double t : parameters(curve, verify)) {
                const double angle = arc->start_angle + t * arc->sweep;
                const Vector2 ray(std::cos(angle), std::sin(angle));
                ask(arc->center + (arc->radius + beside * tolerance_) * ray);
                ask(arc->center + (arc->radius - beside * tolerance_) * ray);
            }
            return;
        }
        for (const double t : parameters(curve, verify))
            ask_beside(point_at(curve, t), derivative_at(curve, t));
    }

    const Asked& asked() const { return asked_; }

  private:
    static constexpr int outline = 2;  ///< set of sides

    void ask_beside(const Point2& on, const Vector2& along) {
        const double size = along.norm();
        if (!(size > 0.0)) return;
        const Vector2 aside = beside * tolerance_ / size * Vector2(-along.y(), along.x());
        ask(on + aside);
        ask(on - aside);
    }

    void ask(const Point2& place) {
        ++asked_.checks;
        const Windings windings = sides_.windings(place);
        const bool is_material = inside_({windings[0], windings[1]});
        if (is_material == (windings[outline] > 0)) return;
        const double deviation = sides_.distance(place, within_, outline, outline) - within_;
        if (deviation > tolerance_ &&
            sides_.distance(place, in_slit * tolerance_, 0, 1) > in_slit * tolerance_)
            fail(place, is_material, deviation);
        if (deviation <= tolerance_)
            asked_.largest_deviation = std::max(asked_.largest_deviation, deviation);
    }

    [[noreturn]] static void fail(const Point2& place, bool is_material, double deviation) {
        std::ostringstream text;
        text << "the law of winding is broken: at (" << place.x() << ", " << place.y() << ") is "
             << (is_material ? "material, which the outline leaves out"
                             : "no material, and the outline covers it");
        if (std::isfinite(deviation)) text << ", " << deviation << " mm from its edge";
        text << "; take a finer tolerance, or repair the model there";
        throw WindingBreach(text.str(), place);
    }

    const std::function<bool(const arrange::Winding&)>& inside_;
    double tolerance_, within_;
    SideGrid sides_;  ///< of the operands, and of the outline
    Asked asked_;
};

}  // namespace

Asked check_winding(const arrange::Input& input,
                    const std::function<bool(const arrange::Winding&)>& inside,
                    std::span<const Profile> profiles, double tolerance, Verify verify) {
    WindingLaw law(input, inside, profiles, tolerance);
    for (const arrange::DirectedCurve& c : input.curves)
        if (c.weight != 0) law.ask_beside(c.curve, verify);
    if (verify == Verify::quick) return law.asked();
    for (const Profile& profile : profiles) {
        for (const Curve& curve : profile.outer().curves()) law.ask_beside(curve, verify);
        for (const Contour& hole : profile.holes())
            for (const Curve& curve : hole.curves()) law.ask_beside(curve, verify);
    }
    return law.asked();
}

}  // namespace planform::proof
