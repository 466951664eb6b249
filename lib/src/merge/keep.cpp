#include <algorithm>
#include <cstddef>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include "merge/containment.hpp"
#include "merge/operands.hpp"
#include "merge/placing.hpp"
#include "planform/boolean.hpp"

namespace planform {
namespace {

using merge::Operands;

/// A strip as wide as this share of the tolerance along the whole outline is rounding, not overlap.
constexpr double overlap_per_tolerance = 0.01;

struct Item {
    Profile profile;
    Box2 box;
    double area;
    std::size_t body;
};

const std::string& name_of(const Profile& profile, const ProfileSet& set) {
    return profile.name().empty() ? set.name() : profile.name();
}

/// What the order of contours goes by: the geometry, then the name.
std::tuple<double, double, double, const std::string&> place_of(const Box2& box, double area,
                                                                const std::string& name) {
    return {box.min().x(), box.min().y(), -area, name};
}

void sort_by_place(std::vector<Mark>& marks) {
    std::stable_sort(marks.begin(), marks.end(), [](const Mark& a, const Mark& b) {
        return place_of(a.bounds(), a.area(), a.name()) < place_of(b.bounds(), b.area(), b.name());
    });
}

/// Puts the profiles of all bodies where they belong: to be cut, or to be marked.
class SideBySide {
  public:
    SideBySide(std::vector<Item> items, double tolerance)
        : items_(std::move(items)), tolerance_(tolerance) {}

    void run() {
        // What lies on another has no more area than that one.
        std::sort(items_.begin(), items_.end(), [](const Item& a, const Item& b) {
            if (a.area != b.area) return a.area > b.area;
            return place(a) < place(b);
        });
        for (const Item& item : items_) sort_in(item);
        std::sort(kept_.begin(), kept_.end(),
                  [](const Item* a, const Item* b) { return place(*a) < place(*b); });
    }

    std::vector<Profile> profiles() const {
        std::vector<Profile> alone;
        for (const Item* item : kept_) alone.push_back(item->profile);
        const std::vector<int> parents = merge::parents_of(alone, tolerance_);
        std::vector<Profile> result;
        for (std::size_t i = 0; i < alone.size(); ++i)
            result.emplace_back(alone[i].outer(), alone[i].holes(), alone[i].name(), parents[i],
                                Validate::no);
        return result;
    }
    const std::vector<Mark>& marks() const { return marks_; }
    const std::vector<std::string>& notes() const { return notes_; }

  private:
    static std::tuple<double, double, double, const std::string&> place(const Item& item) {
        return place_of(item.box, item.area, item.profile.name());
    }

    void sort_in(const Item& item) {
        Operands operands;
        operands.add(item.profile, 0);
        bool meets_others = false;
        for (const Item* other : kept_) {
            if (other->body == item.body || !other->box.intersects(item.box)) continue;
            merge::add_near(operands, other->profile, 1, item.box);
            meets_others = true;
        }
        if (meets_others) {
            double free = 0.0;
            for (const Profile& rest : operands.arranged(merge::in_first_only, tolerance_))
                free += rest.area();
            if (free == 0.0) return mark(item.profile);
            const double rounding = overlap_per_tolerance * tolerance_ * item.profile.length();
            if (item.area - free > rounding)
                notes_.push_back("\"" + item.profile.name() +
                                 "\" lies on the material of others in part only: its outline is "
                                 "cut whole");
        }
        kept_.push_back(&item);
    }

    void mark(const Profile& profile) {
        marks_.emplace_back(profile.outer(), profile.name());
        for (const Contour& hole : profile.holes()) marks_.emplace_back(hole, profile.name());
    }

    std::vector<Item> items_;
    double tolerance_;
    std::vector<const Item*> kept_;
    std::vector<Mark> marks_;
    std::vector<std::string> notes_;
};

}  // namespace

ProfileSet kept_apart(std::span<const ProfileSet> sets) {
    if (sets.empty()) return ProfileSet();
    const Datum& datum = sets.front().datum();
    double tolerance = 0.0;
    std::vector<Item> items;
    std::vector<Mark> marks;
    std::vector<std::string> notes;
    for (std::size_t i = 0; i < sets.size(); ++i) {
        const ProfileSet set = merge::placed_on(sets[i], datum);
        tolerance = std::max(tolerance, set.tolerance());
        for (const Profile& p : set.profiles())
            items.push_back({Profile(p.outer(), p.holes(), name_of(p, set), -1, Validate::no),
                             p.bounds(), p.area(), i});
        marks.insert(marks.end(), set.marks().begin(), set.marks().end());
        notes.insert(notes.end(), set.notes().begin(), set.notes().end());
    }
    SideBySide side_by_side(std::move(items), tolerance);
    side_by_side.run();
    marks.insert(marks.end(), side_by_side.marks().begin(), side_by_side.marks().end());
    sort_by_place(marks);
    notes.insert(notes.end(), side_by_side.notes().begin(), side_by_side.notes().end());
    return ProfileSet(side_by_side.profiles(), std::move(marks), datum, tolerance,
                      sets.size() == 1 ? sets.front().name() : std::string(), std::move(notes),
                      Validate::no);
}

}  // namespace planform
