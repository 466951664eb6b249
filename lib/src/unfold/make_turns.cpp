/// Bends: which panels make one, by what angle it turns, and how long the rule makes it.

#include <algorithm>
#include <cmath>
#include <deque>

#include "error/figures.hpp"
#include "unfold/development.hpp"
#include "unfold/refusals.hpp"

namespace planform::unfolding {

namespace {

/// Ends of a turn nearer to each other than this are one, rad.
constexpr double same_angle = 1e-6;
/// Places of a side that are looked at.
constexpr int places = 8;

class TurnMaker {
  public:
    TurnMaker(Development& development, const BendRule& rule, std::vector<std::string>& notes)
        : d_(development), rule_(rule), notes_(notes) {}

    void run() {
        for (std::size_t i = 0; i < d_.panels.size(); ++i)
            if (d_.panels[i].is_curved() && d_.turn_of_panel[i] < 0) gather(static_cast<int>(i));
        for (Turn& turn : d_.turns) {
            measure(turn);
            lengthen(turn);
        }
        if (tight_ > 0)
            notes_.push_back(words::counted(tight_, "bend is", "bends are") +
                             " tighter than DIN 6935 tells of (inside radius below " +
                             words::figure(din_6935_least_ratio) +
                             " of the thickness): taken by the factor of that ratio; a trial "
                             "strip tells better");
        if (not_in_table_ > 0)
            notes_.emplace_back(
                "rolls and conical bends go by DIN 6935: bend tables don't list them");
    }

  private:
    void gather(int first);
    void measure(Turn& turn);
    void lengthen(Turn& turn);

    Development& d_;
    const BendRule& rule_;
    std::vector<std::string>& notes_;
    std::size_t tight_ = 0;
    std::size_t not_in_table_ = 0;
};

void TurnMaker::gather(int first) {
    const int number = static_cast<int>(d_.turns.size());
    Turn turn;
    turn.panels = {first};
    turn.offsets = {0.0};
    turn.senses = {1.0};
    d_.turn_of_panel[static_cast<std::size_t>(first)] = number;
    for (std::size_t i = 0; i < turn.panels.size(); ++i) {
        const int from = turn.panels[i];
        for (const Side& side : d_.sides_of(from)) {
            if (side.twin < 0) continue;
            const int next = d_.side(side.twin).panel;
            if (d_.turn_of_panel[static_cast<std::size_t>(next)] >= 0 ||
                !is_same_surface(d_.body.sheet(d_.panel(from).face()),
                                 d_.body.sheet(d_.panel(next).face())))
                continue;
            d_.turn_of_panel[static_cast<std::size_t>(next)] = number;
            // The same place has an angle in both.
            const double sense =
                d_.panel(first).axis().dot(d_.panel(next).axis()) > 0.0 ? 1.0 : -1.0;
            turn.panels.push_back(next);
            turn.senses.push_back(sense);
            turn.offsets.push_back(turn.angle_of(i, d_.panel(from), side.start) -
                                   sense * d_.panel(next).angle(side.start));
        }
    }
    d_.turns.push_back(std::move(turn));
}

void TurnMaker::measure(Turn& turn) {
    double low = INFINITY, high = -INFINITY;
    std::vector<double> joined;
    turn.least_along = INFINITY;
    turn.most_along = -INFINITY;
    for (std::size_t i = 0; i < turn.panels.size(); ++i) {
        const Panel& panel = d_.panel(turn.panels[i]);
        for (const Side& side : d_.sides_of(turn.panels[i])) {
            // Along lines and circles on a cylinder or cone the ends are the extremes.
            const bool is_plain = d_.body.form(side.edge).kind() != EdgeForm::Kind::other;
            for (int k = 0; k <= places; k += is_plain ? places : 1) {
                const Point3 place = d_.body.point(side.edge, static_cast<double>(k) / places);
                const double angle = turn.angle_of(i, panel, place);
                low = std::min(low, angle);
                high = std::max(high, angle);
                const double along = panel.along(panel.in_middle(place));
                turn.least_along = std::min(turn.least_along, along);
                turn.most_along = std::max(turn.most_along, along);
            }
            if (side.twin < 0) continue;
            const int beyond = d_.turn_of_panel[static_cast<std::size_t>(d_.side(side.twin).panel)];
            if (beyond >= 0 && &d_.turns[static_cast<std::size_t>(beyond)] == &turn) continue;
            joined.push_back(turn.angle_of(i, panel, side.start));
        }
    }
    std::sort(joined.begin(), joined.end());
    turn.first = low;
    turn.last = high;
    if (!joined.empty()) {
        const double apart = joined.back() - joined.front();
        if (apart > same_angle) {
            turn.joined_ends = 2;
            turn.first = joined.front();
            turn.last = joined.back();
        } else {
            turn.joined_ends = 1;
            // A curl: from the line where it is joined to its other end.
            if (std::abs(joined.front() - low) < std::abs(joined.front() - high))
                turn.first = joined.front();
            else
                turn.last = joined.front();
        }
    }
}

void TurnMaker::lengthen(Turn& turn) {
    const double t = d_.skin.thickness;
    const Panel& panel = d_.panel(turn.panels.front());
    const double about_axis = turn.last - turn.first;
    double middle_radius = panel.middle_radius();
    turn.angle = about_axis;
    if (panel.kind() == SurfaceKind::cone) {
        // The normal turns by the cosine of the half angle; the radius is that of the normal
        // section (Meusnier): distance from the apex times the tangent.
        turn.angle *= std::cos(panel.half_angle());
        middle_radius = 0.5 * (turn.least_along + turn.most_along) * std::tan(panel.half_angle());
    }
    turn.inside_radius = std::max(0.0, middle_radius - 0.5 * t);
    if (turn.inside_radius < 1e-9 * t + 1e-9) turn.inside_radius = 0.0;
    const BendKind kind = turn.kind(panel);
    const bool by_standard = rule_.kind == BendRuleKind::din_6935 ||
                             (rule_.kind == BendRuleKind::table && kind != BendKind::bend);
    if (by_standard && turn.inside_radius < din_6935_least_ratio * t * (1.0 - 1e-9)) ++tight_;
    if (by_standard && rule_.kind == BendRuleKind::table) ++not_in_table_;
    const BendRule rule = by_standard ? BendRule{} : rule_;
    turn.allowance = bend_allowance(rule, t, turn.inside_radius, turn.angle);
    turn.neutral_depth = turn.allowance / turn.angle - turn.inside_radius;
    for (const int index : turn.panels) d_.panel(index).set_neutral_depth(turn.neutral_depth);
    if (panel.kind() == SurfaceKind::cone &&
        !(d_.panel(turn.panels.front()).stretch(turn.least_along) > 0.0))
        refuse(NotUnfolded::not_developable,
               face_words(d_.body, {panel.face()}) + " is too pointed for the rule of its bend",
               d_.body, {panel.face()});
}

}  // namespace

BendKind Turn::kind(const Panel& panel) const {
    if (joined_ends < 2) return BendKind::roll;
    return panel.kind() == SurfaceKind::cone ? BendKind::conical : BendKind::bend;
}

void make_turns(Development& development, const BendRule& rule, std::vector<std::string>& notes) {
    TurnMaker(development, rule, notes).run();
}

}  // namespace planform::unfolding
