#include <algorithm>
#include <cmath>
#include <deque>
#include <set>

#include "unfold/development.hpp"
#include "unfold/refusals.hpp"

namespace planform::unfolding {

namespace {

/// Two ways round to the same place agree within the tolerance and this share of the size.
constexpr double same_place_share = 1e-6;
/// Joined panels of different surfaces meet in straight lines within this share of the length.
constexpr double straight_joint_share = 1e-6;

class Placer {
  public:
    explicit Placer(Development& development) : d_(development), body_(development.body) {}

    void run() {
        std::deque<int> open{d_.root};
        d_.panel(d_.root).is_placed = true;
        while (!open.empty()) {
            const int from = open.front();
            open.pop_front();
            // The longest line that two panels share says best how they lie.
            for (const int joint : joints_of(from)) {
                const int next = d_.side(d_.side(joint).twin).panel;
                if (d_.panel(next).is_placed) continue;
                place(joint);
                open.push_back(next);
            }
        }
        for (const Panel& panel : d_.panels)
            if (!panel.is_placed)
                refuse(NotUnfolded::not_one_thickness,
                       face_words(body_, {panel.face()}) +
                           " is parted from the rest of its side by a groove or a step",
                       body_, {panel.face()});
        for (std::size_t i = 0; i < d_.sides.size(); ++i)
            if (d_.sides[i].twin > static_cast<int>(i)) check(static_cast<int>(i));
    }

  private:
    std::vector<int> joints_of(int panel) const;
    void place(int joint);
    void check(int joint) const;
    std::vector<int> way_to_root(int panel) const;

    Development& d_;
    const SheetBody& body_;
};

std::vector<int> Placer::joints_of(int panel) const {
    std::vector<int> joints;
    const auto at = static_cast<std::size_t>(panel);
    for (std::size_t i = d_.first_side[at]; i < d_.first_side[at + 1]; ++i)
        if (d_.sides[i].twin >= 0) joints.push_back(static_cast<int>(i));
    const auto length = [this](int joint) {
        return (d_.side(joint).end - d_.side(joint).start).norm();
    };
    std::stable_sort(joints.begin(), joints.end(),
                     [&](int a, int b) { return length(a) > length(b) * (1.0 + 1e-9); });
    return joints;
}

void Placer::place(int joint) {
    const Side& side = d_.side(joint);
    const Side& twin = d_.side(side.twin);
    const Panel& from = d_.panel(side.panel);
    Panel& to = d_.panel(twin.panel);
    Point3 first = side.start, second = side.end, twin_first = twin.end, twin_second = twin.start;
    const bool same = is_same_surface(body_.sheet(from.face()), body_.sheet(to.face())) &&
                      from.is_upper() == to.is_upper();
    if (same) {
        // Split along any curve, closed ones, too: the place of it that is farthest from its start.
        twin_first = first;
        for (const double share : {0.25, 0.5, 0.75}) {
            const Point3 place = from.in_middle(body_.point(side.edge, share));
            if ((place - first).norm() > (second - first).norm()) second = place;
        }
        twin_second = second;
    } else {
        const Point3 middle = from.in_middle(body_.point(side.edge, 0.5));
        const Vector3 chord = second - first;
        const double off = chord.cross(middle - first).norm() / std::max(chord.norm(), 1e-300);
        if (!(chord.norm() > 0.0) || off > straight_joint_share * body_.size + d_.tolerance)
            refuse(NotUnfolded::not_developable,
                   face_words(body_, {from.face(), to.face()}) +
                       " meet along a curve: no flat sheet bends to that",
                   body_, {from.face(), to.face()});
    }
    const Vector2 there = from.in_blank(second) - from.in_blank(first);
    const Vector2 here = to.flat(twin_second) - to.flat(twin_first);
    const double turn = std::atan2(cross(here, there), here.dot(there));
    // By the middles: what the two lengths differ by is shared out.
    const Point2 target = 0.5 * (from.in_blank(second) + from.in_blank(first));
    const Point2 source = 0.5 * (to.flat(twin_second) + to.flat(twin_first));
    Transform2 placement = Transform2::Identity();
    placement.linear() = Eigen::Rotation2Dd(turn).toRotationMatrix();
    placement.translation() = target - placement.linear() * source;
    to.placement = placement;
    to.is_placed = true;
    to.parent = side.panel;
}

std::vector<int> Placer::way_to_root(int panel) const {
    std::vector<int> way;
    for (; panel >= 0; panel = d_.panel(panel).parent) way.push_back(panel);
    return way;
}

/// Panels that are joined lie beside each other whichever way round they were laid: else the walls
/// go round and close.
void Placer::check(int joint) const {
    const Side& side = d_.side(joint);
    const Side& twin = d_.side(side.twin);
    const Panel& from = d_.panel(side.panel);
    const Panel& to = d_.panel(twin.panel);
    const double apart = std::max((from.in_blank(side.start) - to.in_blank(twin.end)).norm(),
                                  (from.in_blank(side.end) - to.in_blank(twin.start)).norm());
    if (apart <= d_.tolerance + same_place_share * body_.size) return;
    std::vector<int> one = way_to_root(side.panel), other = way_to_root(twin.panel);
    while (one.size() > 1 && other.size() > 1 && one[one.size() - 2] == other[other.size() - 2]) {
        one.pop_back();
        other.pop_back();
    }
    other.pop_back();
    one.insert(one.end(), other.rbegin(), other.rend());
    std::vector<int> walls, all;
    for (const int panel : one) {
        all.push_back(d_.panel(panel).face());
        if (!d_.panel(panel).is_curved()) walls.push_back(all.back());
    }
    // Round a tube the bends turn a full turn in all; up from a wall and back into it, none.
    double turned = 0.0;
    std::set<int> turns;
    for (const int panel : one) {
        const int turn = d_.turn_of_panel[static_cast<std::size_t>(panel)];
        if (turn < 0 || !turns.insert(turn).second) continue;
        turned += (d_.panel(panel).bends_up() ? 1.0 : -1.0) *
                  d_.turns[static_cast<std::size_t>(turn)].angle;
    }
    if (std::abs(turned) < pi)
        refuse(NotUnfolded::lip_or_louvre,
               face_words(body_, all) +
                   " go up from a wall and back into it: a louvre, bridge or bead is formed, not "
                   "bent; leave it out to unfold the rest",
               body_, all);
    refuse(NotUnfolded::closed_ring,
           (walls.empty() ? face_words(body_, all) : face_words(body_, walls)) +
               " go round and close; cut one corner or one bend open to unfold it",
           body_, all);
}

}  // namespace

void place_panels(Development& development) { Placer(development).run(); }

}  // namespace planform::unfolding
