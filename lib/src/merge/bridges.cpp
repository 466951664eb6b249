#include "planform/bridges.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <optional>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "merge/containment.hpp"
#include "merge/gaps.hpp"
#include "merge/operands.hpp"
#include "merge/strip.hpp"
#include "planform/boolean.hpp"
#include "planform/error.hpp"

namespace planform {
namespace {

using merge::Gap;
using merge::Operands;
using merge::Strip;

/// The area of the result and that expected differ by rounding only, relative to the area.
constexpr double same_area = 1e-9;
/// The sheet around profiles reaches this many widths beyond them.
constexpr double sheet_margin = 8.0;
/// Gaps are looked at so many times in a width.
constexpr double looks_a_width = 4.0;

std::string describe(const Profile& island) {
    const Box2 box = island.bounds();
    std::ostringstream text;
    text.precision(6);
    text << "the piece";
    if (!island.name().empty()) text << " \"" << island.name() << "\"";
    text << " about (" << box.center().x() << ", " << box.center().y() << "), " << box.sizes().x()
         << " x " << box.sizes().y() << " mm, ";
    return text.str();
}

/// Finds the strips that hold the islands of one set.
class BridgeFinder {
  public:
    BridgeFinder(const std::vector<Profile>& profiles, double width, int count, double tolerance)
        : profiles_(profiles),
          children_(profiles.size()),
          width_(width),
          count_(count),
          tolerance_(tolerance) {
        for (std::size_t i = 0; i < profiles.size(); ++i)
            if (profiles[i].is_island())
                children_[static_cast<std::size_t>(profiles[i].parent())].push_back(i);
    }

    /// The strips between a profile and its islands, theirs, and so on. Adds a note for each island
    /// that has room for fewer than asked for.
    std::vector<Strip> strips_below(std::size_t root, std::vector<std::string>& notes) const {
        std::vector<Strip> strips;
        hold_islands_of(root, strips, notes);
        return strips;
    }

    /// A profile and all islands below it, at any depth.
    std::vector<std::size_t> tree_of(std::size_t root) const {
        std::vector<std::size_t> tree{root};
        for (std::size_t i = 0; i < tree.size(); ++i)
            for (const std::size_t island : children_[tree[i]]) tree.push_back(island);
        return tree;
    }

  private:
    /// What holds an island: the profile around it, the one its strips go to, how many.
    struct Holding {
        std::size_t around, holder;
        int count;
    };

    void hold_islands_of(std::size_t around, std::vector<Strip>& strips,
                         std::vector<std::string>& notes) const {
        std::vector<std::size_t> held, loose = children_[around];
        // All of them with as many as asked for, before any has to do with fewer.
        for (int least = count_; !loose.empty(); --least) {
            if (least < 1) {
                std::ostringstream reason;
                reason << describe(profiles_[loose.front()]) << "has no room for a bridge of "
                       << width_ << " mm; ask for narrower ones";
                throw GeometryError(ErrorKind::bridge_not_placed, reason.str());
            }
            for (bool found = true; found && !loose.empty();) {
                std::vector<std::size_t> left;
                for (const std::size_t island : loose) {
                    if (!hold(island, around, held, least, strips)) {
                        left.push_back(island);
                        continue;
                    }
                    held.push_back(island);
                    if (least < count_) notes.push_back(fewer_note(island, least));
                }
                found = left.size() < loose.size();
                loose = std::move(left);
            }
        }
        for (const std::size_t island : held) hold_islands_of(island, strips, notes);
    }

    std::string fewer_note(std::size_t island, int held_by) const {
        std::ostringstream text;
        text << describe(profiles_[island]) << "is held by " << held_by << " bridge"
             << (held_by == 1 ? "" : "s") << ": there is no room for " << count_;
        return text.str();
    }

    /// By `count` strips to the material around; where that is out of sight, to a neighbour that is
    /// held already.
    bool hold(std::size_t island, std::size_t around, const std::vector<std::size_t>& held,
              int count, std::vector<Strip>& strips) const {
        const Profile& outer = profiles_[around];
        const int hole = merge::hole_around(profiles_[island].outer(), outer, tolerance_);
        if (hole < 0) return false;
        const Contour& contour = outer.holes()[static_cast<std::size_t>(hole)];
        if (hold_to(island, contour, {around, around, count}, strips)) return true;
        return std::any_of(held.begin(), held.end(), [&](std::size_t neighbour) {
            return hold_to(island, profiles_[neighbour].outer(), {around, neighbour, count},
                           strips);
        });
    }

    /// Adds all strips between an island and the outline of its holder, or none.
    bool hold_to(std::size_t island, const Contour& target, const Holding& way,
                 std::vector<Strip>& strips) const {
        const auto [around, holder, count] = way;
        merge::Surroundings surroundings{{&profiles_[around]}, {}, width_, tolerance_};
        for (const std::size_t sibling : children_[around]) {
            const Profile* profile = &profiles_[sibling];
            surroundings.material.push_back(profile);
            if (sibling != island && sibling != holder) surroundings.obstacles.push_back(profile);
        }
        if (holder != around) surroundings.obstacles.push_back(&profiles_[around]);

        std::vector<Strip> placed = strips;
        const std::vector<Gap> gaps =
            merge::gaps_between(profiles_[island].outer(), target, width_ / looks_a_width);
        const auto first = place(gaps, surroundings, placed);
        if (!first) return false;
        for (int i = 1; i < count; ++i) {
            // The middle half of the share first, so that bridges don't crowd where shares meet.
            std::vector<Gap> order = gaps;
            std::stable_sort(order.begin(), order.end(), [&](const Gap& a, const Gap& b) {
                return halves_from_middle(a.place - *first, i, count) <
                       halves_from_middle(b.place - *first, i, count);
            });
            if (!place(order, surroundings, placed)) return false;
        }
        strips = std::move(placed);
        return true;
    }

    /// 0: in the middle half of the i-th of equal shares of the outline; 1: in the share; 2:
    /// beyond.
    static int halves_from_middle(double place, int i, int count) {
        const double offset = place - static_cast<double>(i) / count;
        const double distance = std::abs(offset - std::round(offset)) * count;
        return distance <= 0.25 ? 0 : distance <= 0.5 ? 1 : 2;
    }

    /// Where material is thinner than a bridge, strips still have to reach into it by more than the
    /// grid needs to tell that from a touch.
    double least_hold() const { return std::min(4.0 * tolerance_, 0.25 * width_); }

    /// Puts a strip across the first gap where it is clear; its place on the outline. A strip that
    /// ends in material as long as it is wide comes first: one that ends in a thin tip holds by
    /// that.
    std::optional<double> place(const std::vector<Gap>& gaps,
                                const merge::Surroundings& surroundings,
                                std::vector<Strip>& strips) const {
        for (const double hold : {width_, least_hold()})
            for (const Gap& gap : gaps) {
                std::optional<Strip> strip = merge::strip_across(gap, surroundings, hold);
                if (!strip) continue;
                if (std::any_of(strips.begin(), strips.end(), [&](const Strip& other) {
                        return merge::crowd(*strip, other, width_);
                    }))
                    continue;
                strips.push_back(std::move(*strip));
                return gap.place;
            }
        return std::nullopt;
    }

    const std::vector<Profile>& profiles_;
    std::vector<std::vector<std::size_t>> children_;
    double width_;
    int count_;
    double tolerance_;
};

double filled_area(const std::vector<Strip>& strips) {
    double area = 0.0;
    for (const Strip& strip : strips) area += strip.filled_area;
    return area;
}

void require_area(double found, double expected, double size, const Profile& where) {
    if (std::abs(found - expected) <= same_area * size) return;
    std::ostringstream reason;
    reason.precision(12);
    reason << describe(where) << "does not come out as expected with its bridges: " << found
           << " instead of " << expected << " mm^2; ask for narrower or fewer bridges";
    throw GeometryError(ErrorKind::bridge_not_placed, reason.str());
}

std::string note_of(std::size_t strips, double width, std::size_t pieces, const char* what) {
    std::ostringstream text;
    text << strips << " bridge" << (strips == 1 ? "" : "s") << " of " << width << " mm hold"
         << (strips == 1 ? "s " : " ") << pieces << " " << what << (pieces == 1 ? "" : "s");
    return text.str();
}

ProfileSet with_profiles(const ProfileSet& set, std::vector<Profile> profiles, std::string note,
                         const std::vector<std::string>& more) {
    std::vector<std::string> notes = set.notes();
    notes.push_back(std::move(note));
    notes.insert(notes.end(), more.begin(), more.end());
    return ProfileSet(std::move(profiles), set.marks(), set.datum(), set.tolerance(), set.name(),
                      std::move(notes), Validate::no);
}

ProfileSet islands_held(const ProfileSet& set, double width, int count) {
    const std::vector<Profile>& all = set.profiles();
    const BridgeFinder finder(all, width, count, set.tolerance());
    std::vector<Profile> result;
    std::size_t bridge_count = 0;
    std::vector<std::string> notes;
    for (std::size_t root = 0; root < all.size(); ++root) {
        if (all[root].is_island()) continue;
        const std::vector<std::size_t> tree = finder.tree_of(root);
        if (tree.size() == 1) {
            result.push_back(all[root]);
            continue;
        }
        const std::vector<Strip> strips = finder.strips_below(root, notes);
        Operands operands;
        double expected = filled_area(strips);
        for (const std::size_t i : tree) {
            operands.add(all[i], 0);
            expected += all[i].area();
        }
        for (const Strip& strip : strips) operands.add(strip.rectangle, 1);
        std::vector<Profile> one = operands.arranged(merge::in_either, set.tolerance());
        if (one.size() != 1)
            throw GeometryError(
                ErrorKind::bridge_not_placed,
                describe(all[tree[1]]) + "is not held by its bridges; ask for wider or more ones");
        require_area(one.front().area(), expected, expected, all[tree[1]]);
        result.push_back(std::move(one.front()));
        bridge_count += strips.size();
    }
    if (bridge_count == 0) return set;
    const std::size_t pieces = all.size() - result.size();
    return with_profiles(set, std::move(result), note_of(bridge_count, width, pieces, "island"),
                         notes);
}

/// What a large sheet is once the profiles have been cut out of it.
ProfileSet sheet_around(const ProfileSet& set, double width) {
    Box2 box = set.bounds();
    const Vector2 margin = Vector2::Constant(sheet_margin * width + 0.1 * box.sizes().norm());
    box = Box2(box.min() - margin, box.max() + margin);
    std::vector<Curve> sides;
    const Point2 corners[] = {box.corner(Box2::BottomLeft), box.corner(Box2::BottomRight),
                              box.corner(Box2::TopRight), box.corner(Box2::TopLeft)};
    for (std::size_t i = 0; i < 4; ++i) sides.emplace_back(Line{corners[i], corners[(i + 1) % 4]});
    const ProfileSet whole({Profile(Contour(std::move(sides)))}, {}, set.datum(), set.tolerance(),
                           {}, {}, Validate::no);
    return difference(whole, set);
}

ProfileSet drop_outs_held(const ProfileSet& set, double width, int count) {
    if (set.profiles().empty()) return set;
    const ProfileSet sheet = sheet_around(set, width);
    const BridgeFinder finder(sheet.profiles(), width, count, set.tolerance());
    std::vector<Strip> strips;
    std::vector<std::string> notes;
    for (std::size_t root = 0; root < sheet.profiles().size(); ++root) {
        if (sheet.profiles()[root].is_island()) continue;
        std::vector<Strip> more = finder.strips_below(root, notes);
        std::move(more.begin(), more.end(), std::back_inserter(strips));
    }
    if (strips.empty()) return set;
    Operands operands;
    for (const Profile& profile : set.profiles()) operands.add(profile, 0);
    for (const Strip& strip : strips) operands.add(strip.rectangle, 1);
    std::vector<Profile> left = operands.arranged(merge::in_first_only, set.tolerance());
    double area = 0.0;
    for (const Profile& profile : left) {
        area += profile.area();
        if (!profile.holes().empty())
            throw GeometryError(ErrorKind::bridge_not_placed,
                                describe(profile) + "still has a drop-out; ask for wider bridges");
    }
    require_area(area, set.area() - filled_area(strips), set.area(), set.profiles().front());
    const std::size_t pieces = sheet.profiles().size() - 1;
    return with_profiles(set, std::move(left), note_of(strips.size(), width, pieces, "drop-out"),
                         notes);
}

}  // namespace

ProfileSet drop_outs(const ProfileSet& profiles) {
    Operands operands;
    for (const Profile& profile : profiles.profiles()) {
        for (const Contour& hole : profile.holes()) operands.add_filled(hole, 0, profile.name());
        operands.add(profile, 1);
    }
    return ProfileSet(operands.arranged(merge::in_first_only, profiles.tolerance()), {},
                      profiles.datum(), profiles.tolerance(), profiles.name(), {}, Validate::no);
}

ProfileSet bridges(const ProfileSet& profiles, double width, int count, Hold hold) {
    if (!(width > 0.0) || !std::isfinite(width))
        throw GeometryError(ErrorKind::invalid_argument,
                            "the width of bridges is a positive, finite number of millimetres");
    if (count < 1)
        throw GeometryError(ErrorKind::invalid_argument, "every island needs at least one bridge");
    return hold == Hold::islands ? islands_held(profiles, width, count)
                                 : drop_outs_held(profiles, width, count);
}

}  // namespace planform
