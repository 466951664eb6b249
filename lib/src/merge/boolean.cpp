#include "planform/boolean.hpp"

#include <algorithm>
#include <cstddef>
#include <initializer_list>
#include <set>
#include <utility>

#include "merge/operands.hpp"
#include "merge/placing.hpp"

namespace planform {
namespace {

using merge::Inside;
using merge::Operands;

/// Which marks a boolean keeps, by whether they are in the first and in the second set.
using KeepMark = bool (*)(bool, bool);

void add_all(Operands& operands, const ProfileSet& set, int operand) {
    for (const Profile& profile : set.profiles()) operands.add(profile, operand);
}

/// One contour as text that is the same for the same geometry.
std::string key_of(const Mark& mark) { return ProfileSet({}, {mark}).digest(); }

std::set<std::string> keys_of(const std::vector<Mark>& marks) {
    std::set<std::string> keys;
    for (const Mark& mark : marks) keys.insert(key_of(mark));
    return keys;
}

std::vector<Mark> combined_marks(const std::vector<Mark>& first, const std::vector<Mark>& second,
                                 KeepMark keep) {
    if (first.empty() && second.empty()) return {};
    const std::set<std::string> in_first = keys_of(first), in_second = keys_of(second);
    std::set<std::string> taken;
    std::vector<Mark> marks;
    for (const std::vector<Mark>* from : {&first, &second})
        for (const Mark& mark : *from) {
            const std::string key = key_of(mark);
            if (keep(in_first.contains(key), in_second.contains(key)) && taken.insert(key).second)
                marks.push_back(mark);
        }
    return marks;
}

/// Sets that were put together unproven may carry a tolerance in which all of them would be lost.
double working_tolerance(double tolerance, std::initializer_list<const ProfileSet*> sets) {
    if (tolerance <= default_tolerance) return tolerance;
    Box2 box;
    for (const ProfileSet* set : sets) box.extend(set->bounds());
    return limited_tolerance(tolerance, box.isEmpty() ? 0.0 : box.diagonal().norm());
}

void append_new(std::vector<std::string>& notes, const std::vector<std::string>& more) {
    for (const std::string& note : more)
        if (std::find(notes.begin(), notes.end(), note) == notes.end()) notes.push_back(note);
}

ProfileSet combined(const ProfileSet& first, const ProfileSet& second, const Inside& inside,
                    KeepMark keep) {
    const ProfileSet placed = merge::placed_on(second, first.datum());
    const double tolerance = std::max(first.tolerance(), second.tolerance());
    Operands operands;
    add_all(operands, first, 0);
    add_all(operands, placed, 1);
    std::vector<std::string> notes = first.notes();
    append_new(notes, second.notes());
    return ProfileSet(operands.arranged(inside, working_tolerance(tolerance, {&first, &placed})),
                      combined_marks(first.marks(), placed.marks(), keep), first.datum(), tolerance,
                      first.name(), std::move(notes), Validate::no);
}

}  // namespace

ProfileSet united(const ProfileSet& first, const ProfileSet& second) {
    return combined(first, second, merge::in_either, [](bool a, bool b) { return a || b; });
}

ProfileSet intersection(const ProfileSet& first, const ProfileSet& second) {
    return combined(first, second, merge::in_both, [](bool a, bool b) { return a && b; });
}

ProfileSet difference(const ProfileSet& first, const ProfileSet& second) {
    return combined(first, second, merge::in_first_only, [](bool a, bool b) { return a && !b; });
}

ProfileSet symmetric_difference(const ProfileSet& first, const ProfileSet& second) {
    return combined(first, second, merge::in_one_only, [](bool a, bool b) { return a != b; });
}

ProfileSet united(std::span<const ProfileSet> sets) {
    if (sets.empty()) return ProfileSet();
    const Datum& datum = sets.front().datum();
    double tolerance = 0.0;
    std::vector<ProfileSet> placed;
    placed.reserve(sets.size());
    std::vector<Mark> marks;
    std::vector<std::string> notes;
    for (const ProfileSet& set : sets) {
        placed.push_back(merge::placed_on(set, datum));
        tolerance = std::max(tolerance, set.tolerance());
        marks.insert(marks.end(), placed.back().marks().begin(), placed.back().marks().end());
        append_new(notes, set.notes());
    }
    Operands operands;
    for (const ProfileSet& set : placed) add_all(operands, set, 0);
    return ProfileSet(operands.arranged(merge::in_either, tolerance),
                      combined_marks(marks, {}, [](bool a, bool) { return a; }), datum, tolerance,
                      sets.front().name(), std::move(notes), Validate::no);
}

}  // namespace planform
