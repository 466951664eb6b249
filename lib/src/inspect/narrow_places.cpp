/// Puts together what is narrow: pairs of rounds in closed form, all else from the medial axis.

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <set>
#include <tuple>

#include "curve/angles.hpp"
#include "inspect/contact.hpp"
#include "inspect/medial_axis.hpp"
#include "inspect/near_curves.hpp"
#include "planform/error.hpp"
#include "planform/inspect.hpp"

namespace planform {
namespace {

using namespace inspection;

/// Widths along parallel walls are the same to this, relative to the width and in mm.
constexpr double same_width = 1e-6;
/// Places nearer than this (mm) are one.
constexpr double same_place = 1e-4;

/// Where void or material is one piece: its kind and what bounds it.
struct Region {
    bool is_material;
    int profile;
    int contour;  ///< of a hole; 0 for material and for void outside
    friend auto operator<=>(const Region&, const Region&) = default;
};

std::pair<int, int> ordered(int a, int b) { return {std::min(a, b), std::max(a, b)}; }

/// Disjoint sets of numbers.
class Groups {
  public:
    explicit Groups(std::size_t size) : parent_(size) {
        std::iota(parent_.begin(), parent_.end(), std::size_t{0});
    }
    std::size_t find(std::size_t number) {
        while (parent_[number] != number) {
            parent_[number] = parent_[parent_[number]];
            number = parent_[number];
        }
        return number;
    }
    void join(std::size_t a, std::size_t b) {
        a = find(a);
        b = find(b);
        parent_[std::max(a, b)] = std::min(a, b);
    }

  private:
    std::vector<std::size_t> parent_;
};

class NarrowPlaceFinder {
  public:
    NarrowPlaceFinder(const ProfileSet& profiles, double at_most)
        : at_most_(at_most),
          // A chord's error as for outlines; a cell of the grid on which curves count as one.
          index_(profiles, 0.25 * profiles.tolerance()),
          cell_(1e-3 * profiles.tolerance()),
          contacts_(index_, std::max(cell_, 1e-9 * index_.bounds().diagonal().norm())) {}

    std::vector<NarrowPlace> run() {
        const NearCurves near = find_near_curves(index_, at_most_);
        add_rounds();
        for (const auto& [a, b] : near.round_pairs) add_pair(a, b);
        const MedialAxis axis = medial_axis(index_, near, at_most_, cell_);
        add_facing(axis.facing);
        add_notches(axis.places);
        add_widest(axis.places);
        return finished();
    }

  private:
    const OutlineCurve& outline(const Foot& foot) const {
        return index_.curves()[static_cast<std::size_t>(foot.curve)];
    }

    Region region_of(const Contact& contact) const {
        const OutlineCurve& first = outline(contact.feet.front());
        return {contact.is_material, first.profile, contact.is_material ? 0 : first.contour};
    }

    void add(const Contact& contact) {
        if (contact.width > at_most_) return;
        NarrowPlace place;
        const OutlineCurve& first = outline(contact.feet.front());
        const OutlineCurve& last = outline(contact.feet.back());
        const bool same = first.profile == last.profile && first.contour == last.contour;
        place.kind = !contact.is_material ? NarrowPlace::Kind::inner
                     : same               ? NarrowPlace::Kind::neck
                                          : NarrowPlace::Kind::web;
        place.width = contact.width;
        place.center = contact.center;
        place.touching = contact.points;
        place.profile = first.profile;
        place.contour = first.contour;
        place.other_profile = last.profile;
        place.other_contour = last.contour;
        places_.push_back(std::move(place));
        narrow_regions_.insert(region_of(contact));
    }

    /// Foot of a round in a direction from its centre.
    Foot foot_on(const Round& round, const Vector2& direction) const {
        const Point2 target = round.center + round.radius * direction;
        Foot best{round.first_curve, 0.0};
        double least = std::numeric_limits<double>::infinity();
        for (int i = 0; i < round.curve_count; ++i) {
            const int number = round.first_curve + i;
            const Curve& curve = *index_.curves()[static_cast<std::size_t>(number)].curve;
            const double t = nearest_parameter(curve, target);
            const double distance = (point_at(curve, t) - target).norm();
            if (distance >= least) continue;
            least = distance;
            best = {number, t};
        }
        return best;
    }

    /// True if a disc touches another round than these two: the middle of four holes on a grid is
    /// the widest place between them, not a web.
    bool touches_others(const Point2& center, double radius, int first, int second) const {
        const Vector2 reach = Vector2::Constant(radius + cell_);
        return index_.any_near(Box2(center - reach, center + reach), [&](std::int32_t number) {
            const int other = index_.stretches()[static_cast<std::size_t>(number)].round;
            if (other < 0 || other == first || other == second) return false;
            const Round& round = index_.rounds()[static_cast<std::size_t>(other)];
            return std::abs((center - round.center).norm() - round.radius) <= radius + cell_;
        });
    }

    /// The disc between two points; added if it is empty.
    void add_between(const Foot& first, const Point2& p, const Foot& second, const Point2& q) {
        const Point2 center = 0.5 * (p + q);
        const double radius = 0.5 * (q - p).norm();
        if (touches_others(center, radius, outline(first).round, outline(second).round)) return;
        if (!index_.disc_is_empty(center, radius, cell_)) return;
        const Vector2 across = radius > 0.0 ? Vector2(q - p) : Vector2(p - center);
        add({{first, second},
             {p, q},
             center,
             2.0 * radius,
             radius > 0.0 && index_.leads_into_material(first.curve, first.t, across),
             true});
    }

    void add_rounds() {
        for (const Round& round : index_.rounds()) {
            if (2.0 * round.radius > at_most_) continue;
            const Vector2 x(1.0, 0.0);
            const Foot left = foot_on(round, -x), right = foot_on(round, x);
            add_between(left, round.center - round.radius * x, right,
                        round.center + round.radius * x);
        }
    }

    void add_pair(int a, int b) {
        const Round& first = index_.rounds()[static_cast<std::size_t>(a)];
        const Round& second = index_.rounds()[static_cast<std::size_t>(b)];
        const Vector2 apart = second.center - first.center;
        const double distance = apart.norm();
        const Vector2 direction = distance > 0.0 ? Vector2(apart / distance) : Vector2(1.0, 0.0);
        // Beside each other the near sides face; inside each other those away from the centre.
        const bool beside = distance >= std::max(first.radius, second.radius);
        const double side = beside ? 1.0 : first.radius > second.radius ? 1.0 : -1.0;
        const Vector2 to_first = side * direction;
        const Vector2 to_second = beside ? Vector2(-direction) : to_first;
        add_between(foot_on(first, to_first), first.center + first.radius * to_first,
                    foot_on(second, to_second), second.center + second.radius * to_second);
    }

    /// Necks: of each stretch of equal width the place in the middle.
    void add_facing(const std::vector<FacingWalls>& facing) {
        std::vector<Contact> found;
        std::vector<double> lengths;
        std::vector<std::pair<std::size_t, std::size_t>> ends;  // place of the axis, contact
        for (const FacingWalls& walls : facing) {
            std::optional<Contact> contact = contacts_.across(walls.first, walls.second);
            if (contact && !contact->is_neck && contact->width <= at_most_)
                widest_.push_back(*contact);
            if (!contact || !contact->is_neck)
                contact = contacts_.downhill(walls.first, walls.second);
            if (!contact || !contact->is_neck || contact->width > at_most_) continue;
            ends.emplace_back(walls.from, found.size());
            ends.emplace_back(walls.to, found.size());
            lengths.push_back(walls.length);
            found.push_back(std::move(*contact));
        }
        Groups groups(found.size());
        std::sort(ends.begin(), ends.end());
        for (std::size_t i = 1; i < ends.size(); ++i) {
            if (ends[i].first != ends[i - 1].first) continue;
            const double a = found[ends[i].second].width, b = found[ends[i - 1].second].width;
            if (std::abs(a - b) <= same_width * std::max(1.0, a))
                groups.join(ends[i].second, ends[i - 1].second);
        }
        join_along_curves(found, groups);
        std::map<std::size_t, std::vector<std::size_t>> members;
        for (std::size_t i = 0; i < found.size(); ++i) members[groups.find(i)].push_back(i);
        for (const auto& [group, numbers] : members) add(found[middle_of(found, lengths, numbers)]);
    }

    /// A foot on a joint of two curves is on both.
    std::vector<Foot> same_feet(const Foot& foot) const {
        const OutlineCurve& curve = outline(foot);
        const Interval range = domain(*curve.curve);
        const double end = 1e-6 * (range.last - range.first);
        const auto other = [&](int number) {
            return domain(*index_.curves()[static_cast<std::size_t>(number)].curve);
        };
        if (foot.t >= range.last - end) return {foot, {curve.next, other(curve.next).first}};
        if (foot.t <= range.first + end)
            return {foot, {curve.previous, other(curve.previous).last}};
        return {foot};
    }

    /// On chords a stretch of equal width along curved walls is broken up: contacts between the
    /// same two curves, or where one goes over into its neighbour, are joined if the width is the
    /// same halfway between them, too.
    void join_along_curves(const std::vector<Contact>& found, Groups& groups) const {
        struct Pair {
            Foot low, high;
            std::size_t number;
        };
        std::vector<Pair> pairs;
        for (std::size_t i = 0; i < found.size(); ++i)
            for (const Foot& a : same_feet(found[i].feet.front()))
                for (const Foot& b : same_feet(found[i].feet.back()))
                    pairs.push_back(a.curve <= b.curve ? Pair{a, b, i} : Pair{b, a, i});
        std::sort(pairs.begin(), pairs.end(), [](const Pair& a, const Pair& b) {
            return std::tuple(a.low.curve, a.high.curve, a.low.t, a.number) <
                   std::tuple(b.low.curve, b.high.curve, b.low.t, b.number);
        });
        std::map<std::pair<int, int>, std::vector<const Pair*>> by_curves;
        for (const Pair& pair : pairs)
            by_curves[{pair.low.curve, pair.high.curve}].push_back(&pair);
        const auto join = [&](const Pair& a, const Pair& b, const Point2& on_low, int high) {
            const double width = found[a.number].width;
            if (std::abs(width - found[b.number].width) > same_width * std::max(1.0, width)) return;
            const Curve& curve = *index_.curves()[static_cast<std::size_t>(high)].curve;
            const double between =
                (point_at(curve, nearest_parameter(curve, on_low)) - on_low).norm();
            if (std::abs(width - between) <= same_width * std::max(1.0, width))
                groups.join(a.number, b.number);
        };
        for (const auto& [curves, members] : by_curves) {
            const auto& [low, high] = curves;
            const Curve& curve = *index_.curves()[static_cast<std::size_t>(low)].curve;
            for (std::size_t i = 1; i < members.size(); ++i)
                join(*members[i - 1], *members[i],
                     point_at(curve, 0.5 * (members[i - 1]->low.t + members[i]->low.t)), high);
            // Where the low curve, or the high one, goes over into the next.
            const int next_low = index_.curves()[static_cast<std::size_t>(low)].next;
            for (const int other : {high, index_.curves()[static_cast<std::size_t>(high)].next,
                                    index_.curves()[static_cast<std::size_t>(high)].previous}) {
                const auto beside = by_curves.find(ordered(next_low, other));
                if (beside == by_curves.end()) continue;
                for (const Pair* pair : {members.front(), members.back()})
                    for (const Pair* next : {beside->second.front(), beside->second.back()})
                        join(*pair, *next, end_point(curve), high);
            }
            const int next_high = index_.curves()[static_cast<std::size_t>(high)].next;
            const auto beside = by_curves.find(ordered(low, next_high));
            if (beside == by_curves.end()) continue;
            const Point2 joint = end_point(*index_.curves()[static_cast<std::size_t>(high)].curve);
            for (const Pair* pair : {members.front(), members.back()})
                for (const Pair* next : {beside->second.front(), beside->second.back()})
                    join(*pair, *next, joint, low);
        }
    }

    /// The contact nearest to the middle of the stretch that the numbered ones make up.
    static std::size_t middle_of(const std::vector<Contact>& contacts,
                                 const std::vector<double>& lengths,
                                 const std::vector<std::size_t>& numbers) {
        Point2 sum = Point2::Zero();
        double length = 0.0;
        for (const std::size_t number : numbers) {
            const double weight = lengths[number] + 1e-12;
            sum += weight * contacts[number].center;
            length += weight;
        }
        const Point2 mean = sum / length;
        return *std::min_element(numbers.begin(), numbers.end(), [&](std::size_t a, std::size_t b) {
            return (contacts[a].center - mean).norm() < (contacts[b].center - mean).norm() - 1e-9;
        });
    }

    /// Bottoms of notches that open: the disc touches three curves that follow each other.
    void add_notches(const std::vector<AxisPlace>& places) {
        for (const AxisPlace& place : places) {
            if (place.widest_gap <= pi + 1e-6 || place.feet.size() != 3) continue;
            const Foot &first = place.feet[0], &bottom = place.feet[1], &last = place.feet[2];
            const OutlineCurve& middle = outline(bottom);
            const bool follow = (middle.previous == first.curve && middle.next == last.curve) ||
                                (middle.previous == last.curve && middle.next == first.curve);
            if (!follow || first.curve == last.curve) continue;
            const std::optional<Contact> contact =
                contacts_.between(first, bottom, last, place.center);
            if (contact && turns_back(*contact) && runs_on(*contact)) notches_.push_back(*contact);
        }
    }

    /// The outer two of three feet lie at least 150 degrees apart, seen from the centre, but not
    /// opposite each other: then they are walls that face each other.
    static bool turns_back(const Contact& contact) {
        const Vector2 a = (contact.points.front() - contact.center).normalized();
        const Vector2 b = (contact.points.back() - contact.center).normalized();
        return a.dot(b) <= std::cos(5.0 / 6.0 * pi) && (a + b).norm() > 1e-6;
    }

    /// The walls of a notch run on for as far as it is wide: the clearance grows there no faster
    /// than between two walls that open by 30 degrees, and does not fall.
    bool runs_on(const Contact& contact) const {
        const double radius = 0.5 * contact.width;
        const Vector2 a = (contact.points.front() - contact.center).normalized();
        const Vector2 b = (contact.points.back() - contact.center).normalized();
        const Vector2 outward = -(a + b);
        const Point2 further = contact.center + contact.width * outward.normalized();
        return index_.disc_is_empty(further, radius, 0.0) &&
               !index_.disc_is_empty(further, radius + 1.01 * contact.width * std::sin(pi / 12.0),
                                     0.0);
    }

    /// Where a hole or a profile has no neck, its widest disc.
    void add_widest(const std::vector<AxisPlace>& places) {
        std::map<Region, Contact> widest;
        const auto offer = [&](const Contact& contact) {
            const Region region = region_of(contact);
            if (narrow_regions_.count(region) > 0 || !bounds_all(contact)) return;
            const auto [position, is_new] = widest.try_emplace(region, contact);
            if (!is_new && contact.width > position->second.width) position->second = contact;
        };
        for (const Contact& contact : widest_) offer(contact);
        for (const AxisPlace& place : places) {
            if (place.widest_gap > pi + 0.05 || is_settled(place)) continue;
            for (const Contact& contact : discs_at(place)) offer(contact);
        }
        for (const auto& [region, contact] : widest) add(contact);
        for (const Contact& contact : notches_) add(contact);
    }

    /// True if what lies inside (hole, or profile without holes near) is bounded by one contour.
    bool bounds_all(const Contact& contact) const {
        const OutlineCurve& first = outline(contact.feet.front());
        if (!contact.is_material && first.contour == 0) return false;
        if (contact.is_material && first.contour != 0) return false;
        return std::all_of(contact.feet.begin(), contact.feet.end(), [&](const Foot& foot) {
            return outline(foot).profile == first.profile && outline(foot).contour == first.contour;
        });
    }

    /// True if both regions beside the first curve have a neck already.
    bool is_settled(const AxisPlace& place) const {
        const OutlineCurve& first = outline(place.feet.front());
        return narrow_regions_.count({false, first.profile, first.contour}) > 0 &&
               narrow_regions_.count({true, first.profile, 0}) > 0;
    }

    std::vector<Contact> discs_at(const AxisPlace& place) const {
        std::vector<Contact> result;
        const std::size_t count = place.feet.size();
        const auto direction = [&](const Foot& foot) {
            const Curve& curve = *outline(foot).curve;
            return Vector2((point_at(curve, foot.t) - place.center).normalized());
        };
        for (std::size_t i = 0; i < count; ++i)
            for (std::size_t j = i + 1; j < count; ++j) {
                if (direction(place.feet[i]).dot(direction(place.feet[j])) > -0.9) continue;
                if (auto contact = contacts_.across(place.feet[i], place.feet[j]))
                    result.push_back(std::move(*contact));
            }
        for (std::size_t i = 0; i + 2 < count; ++i)
            for (std::size_t j = i + 1; j + 1 < count; ++j)
                for (std::size_t k = j + 1; k < count; ++k)
                    if (auto contact = contacts_.between(place.feet[i], place.feet[j],
                                                         place.feet[k], place.center))
                        if (holds_center(*contact)) result.push_back(std::move(*contact));
        return result;
    }

    static bool holds_center(const Contact& contact) {
        std::vector<double> angles;
        for (const Point2& point : contact.points) {
            const Vector2 away = point - contact.center;
            angles.push_back(std::atan2(away.y(), away.x()));
        }
        std::sort(angles.begin(), angles.end());
        double widest = angles.front() + full_turn - angles.back();
        for (std::size_t i = 1; i < angles.size(); ++i)
            widest = std::max(widest, angles[i] - angles[i - 1]);
        return widest <= pi + 1e-6;
    }

    std::vector<NarrowPlace> finished() {
        const auto key = [](const NarrowPlace& place) {
            return std::tuple(place.kind, place.width, place.center.x(), place.center.y());
        };
        std::stable_sort(
            places_.begin(), places_.end(),
            [&](const NarrowPlace& a, const NarrowPlace& b) { return key(a) < key(b); });
        std::vector<NarrowPlace> kept;
        std::map<std::tuple<NarrowPlace::Kind, long long, long long>, std::vector<std::size_t>>
            taken;
        for (NarrowPlace& place : places_) {
            const auto cell = [](double value) {
                return static_cast<long long>(std::floor(value / same_place));
            };
            const long long x = cell(place.center.x()), y = cell(place.center.y());
            bool is_new = true;
            for (long long i = x - 1; i <= x + 1 && is_new; ++i)
                for (long long j = y - 1; j <= y + 1 && is_new; ++j) {
                    const auto found = taken.find({place.kind, i, j});
                    if (found == taken.end()) continue;
                    for (const std::size_t number : found->second)
                        is_new = is_new && (kept[number].center - place.center).norm() > same_place;
                }
            if (!is_new) continue;
            taken[{place.kind, x, y}].push_back(kept.size());
            kept.push_back(std::move(place));
        }
        return kept;
    }

    double at_most_;
    CurveIndex index_;
    double cell_;
    ContactFinder contacts_;
    std::vector<NarrowPlace> places_;
    std::set<Region> narrow_regions_;
    std::vector<Contact> widest_;
    std::vector<Contact> notches_;
};

}  // namespace

std::vector<NarrowPlace> narrow_places(const ProfileSet& profiles, double at_most) {
    if (!(at_most > 0.0) || !std::isfinite(at_most))
        throw GeometryError(ErrorKind::invalid_argument,
                            "narrow places of at most " + std::to_string(at_most) +
                                " mm: a positive finite number is needed");
    if (profiles.profiles().empty()) return {};
    return NarrowPlaceFinder(profiles, at_most).run();
}

}  // namespace planform
