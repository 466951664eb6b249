#include "offset/separation.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>

#include "grid/box_tree.hpp"
#include "offset/integer_frame.hpp"

namespace planform::offset_detail {

using grid::BoxTree;
using grid::GridBox;

/// Boxes of chains or of atoms, to be asked by place.
class ChainIndex {
  public:
    ChainIndex(const IntegerFrame& frame, const std::vector<GridBox>& boxes)
        : frame(frame), tree(boxes) {}
    IntegerFrame frame;
    BoxTree tree;
};

namespace {

/// Chains of more atoms in all are not asked one by one how they turn around a point.
constexpr int many_atoms = 500;
/// Halvings of two atoms that are compared at most, in all.
constexpr int most_bisections = 40;
/// mm: an atom that is as near to its chord is its chord.
constexpr double least_height = 1e-9;
/// Directions at a common end must differ by this much more (rad) than the atoms turn.
constexpr double least_angle = 1e-7;

bool are_apart(const Atom& a, const Atom& b, double clearance, int depth) {
    if (segment_distance(a, b) > a.height + b.height + clearance) return true;
    if (depth == 0 || a.height + b.height <= 0.1 * clearance) return false;
    const Atom& larger = a.height >= b.height ? a : b;
    const Atom& other = a.height >= b.height ? b : a;
    const auto [first, second] = larger.halves();
    return are_apart(first, other, clearance, depth - 1) &&
           are_apart(second, other, clearance, depth - 1);
}

/// Do two atoms, the second of which starts where the first ends, have nothing else in common?
bool meet_once(const Atom& a, const Atom& b, double clearance, int depth) {
    const double angle = std::abs(std::atan2(cross(a.along, b.along), -a.along.dot(b.along)));
    if (angle > a.spread + b.spread + least_angle) return true;
    if (depth == 0 || a.spread + b.spread == 0.0) return false;
    if (a.spread >= b.spread) {
        const auto [far, near] = a.halves();
        return meet_once(near, b, clearance, depth - 1) && are_apart(far, b, clearance, depth - 1);
    }
    const auto [near, far] = b.halves();
    return meet_once(a, near, clearance, depth - 1) && are_apart(a, far, clearance, depth - 1);
}

/// Crossings of the ray from a point to the right, upward less downward.
int crossings(const Atom& atom, const Point2& point, int depth) {
    const double low = std::min(atom.start.y(), atom.end.y()) - atom.height;
    const double high = std::max(atom.start.y(), atom.end.y()) + atom.height;
    const double right = std::max(atom.start.x(), atom.end.x()) + atom.height;
    if (point.y() < low || point.y() > high || point.x() > right) return 0;
    if (depth > 0 && atom.height > 0.0 && point_to_segment(point, atom) <= atom.height) {
        const auto [first, second] = atom.halves();
        return crossings(first, point, depth - 1) + crossings(second, point, depth - 1);
    }
    const bool up = atom.start.y() <= point.y() && atom.end.y() > point.y();
    const bool down = atom.start.y() > point.y() && atom.end.y() <= point.y();
    if (!up && !down) return 0;
    const double side = cross(atom.end - atom.start, point - atom.start);
    return up && side > 0.0 ? 1 : down && side < 0.0 ? -1 : 0;
}

/// Does an atom come nearer to a point than `radius`?
bool is_nearer(const Atom& atom, const Point2& point, double radius, int depth) {
    const double to_chord = point_to_segment(point, atom);
    if (to_chord - atom.height >= radius) return false;
    // It passes by each point of its chord within its height.
    if (to_chord + atom.height < radius || (point - atom.end).norm() < radius) return true;
    if (atom.is_line() || atom.height < least_height || depth == 0) return to_chord < radius;
    if (const Bow* bow = std::get_if<Bow>(&atom.shape); bow && bow->is_circle) {
        const Vector2 out = point - bow->center;
        const double middle = 0.5 * (bow->from + bow->to);
        const double turn = std::remainder(std::atan2(out.y(), out.x()) - middle, 2.0 * pi);
        const bool beside = std::abs(turn) <= 0.5 * std::abs(bow->to - bow->from);
        return beside ? std::abs(out.norm() - bow->u.x()) < radius
                      : (point - atom.start).norm() < radius;
    }
    const auto [first, second] = atom.halves();
    return is_nearer(first, point, radius, depth - 1) ||
           is_nearer(second, point, radius, depth - 1);
}

}  // namespace

void LoopField::add_loop(const std::vector<Curve>& curves, bool begins_chain) {
    const auto first = static_cast<int>(atoms_.size());
    const bool begins = begins_chain || chains_.empty();
    if (begins) chains_.push_back({first, first, Box2(), true, chains()});
    Chain& chain = chains_.back();
    if (!begins) chain.simple = false;
    for (const Curve& curve : curves) {
        if (!append_atoms(curve, atoms_)) chain.simple = false;
        curve_.resize(atoms_.size(), curves_++);
    }
    const auto last = static_cast<int>(atoms_.size());
    chain.last = last;
    if (last - first < 2) chain.simple = false;
    for (int i = first; i < last; ++i) {
        // One point for both ends at a joint, so that rays can't slip through.
        Atom& atom = atoms_[static_cast<std::size_t>(i)];
        const Point2& before = atoms_[static_cast<std::size_t>(i > first ? i - 1 : last - 1)].end;
        atom.height += (atom.start - before).norm();
        atom.start = before;
        chain.box.extend(atom.box());
        next_.push_back(i + 1 < last ? i + 1 : first);
        owner_.push_back(chains() - 1);
    }
}

void LoopField::tell_apart() {
    index_curves();
    if (!curve_index_) return;
    curve_index_->tree.for_each_pair([this](std::int32_t a, std::int32_t b) { compare(a, b); });
}

void LoopField::index_curves() {
    Box2 all;
    for (const Chain& chain : chains_) all.extend(chain.box);
    if (all.isEmpty()) return;
    const IntegerFrame frame(all);
    std::vector<GridBox> boxes;
    boxes.reserve(atoms_.size());
    for (const Atom& atom : atoms_) boxes.push_back(frame(atom.box(), 0.5 * clearance_));
    curve_index_ = std::make_shared<const ChainIndex>(frame, boxes);
}

bool LoopField::comes_within(const Point2& point, double radius, int but_for) const {
    if (!curve_index_ || !(radius > 0.0)) return false;
    const Point2 place = curve_index_->frame.place(point);
    const double reach = curve_index_->frame.length(radius) + 1.0;
    return curve_index_->tree.any_within(
        place.x(), place.y(), [&] { return reach; },
        [&](std::int32_t i) {
            const auto index = static_cast<std::size_t>(i);
            return curve_[index] != but_for &&
                   is_nearer(atoms_[index], point, radius, most_bisections);
        });
}

int LoopField::crowd(const Point2& point, double reach, int most) const {
    if (!curve_index_) return 0;
    int count = 0;
    curve_index_->tree.any_overlap(curve_index_->frame(Box2(point, point), reach),
                                   [&](std::int32_t) { return ++count >= most; });
    return count;
}

void LoopField::index() {
    Box2 all;
    for (const Chain& chain : chains_) all.extend(chain.box);
    if (all.isEmpty()) return;
    const IntegerFrame frame(all);
    std::vector<GridBox> outer;
    for (const Chain& chain : chains_)
        outer.push_back(chain.first == chain.last ? GridBox{0, 0, -1, -1}
                                                  : frame(chain.box, clearance_));
    index_ = std::make_shared<const ChainIndex>(frame, outer);
}

void LoopField::compare(int a, int b) {
    const auto index = [](int i) { return static_cast<std::size_t>(i); };
    const Atom &first = atoms_[index(a)], &second = atoms_[index(b)];
    const int owner_a = owner_[index(a)], owner_b = owner_[index(b)];
    if (owner_a != owner_b) {
        if (group(owner_a) != group(owner_b) &&
            !are_apart(first, second, clearance_, most_bisections))
            unite(owner_a, owner_b);
        return;
    }
    Chain& chain = chains_[index(owner_a)];
    if (!chain.simple) return;
    const bool ab = next_[index(a)] == b, ba = next_[index(b)] == a;
    if (!ab && !ba) {
        chain.simple = are_apart(first, second, clearance_, most_bisections);
    } else if (ab && ba) {
        const auto [near, far] = second.halves();
        chain.simple = meet_once(first, near, clearance_, most_bisections) &&
                       meet_once(far, first, clearance_, most_bisections);
    } else {
        chain.simple = ab ? meet_once(first, second, clearance_, most_bisections)
                          : meet_once(second, first, clearance_, most_bisections);
    }
}

int LoopField::group(int chain) const {
    const auto above = [this](int c) { return chains_[static_cast<std::size_t>(c)].group; };
    while (above(chain) != chain) chain = above(chain);
    return chain;
}

void LoopField::unite(int a, int b) {
    const int lower = std::min(group(a), group(b));
    // All on the way up are hung below the new head: later ways are short.
    for (int chain : {a, b})
        while (chain != lower) {
            int& above = chains_[static_cast<std::size_t>(chain)].group;
            const int next = above;
            above = lower;
            if (next == chain) break;
            chain = next;
        }
}

int LoopField::winding(int chain, const Point2& point) const {
    const Chain& c = chains_[static_cast<std::size_t>(chain)];
    int winding = 0;
    for (int i = c.first; i < c.last; ++i)
        winding += crossings(atoms_[static_cast<std::size_t>(i)], point, most_bisections);
    return winding;
}

int LoopField::winding_but_for(int group_left_out, const Point2& point) const {
    int winding = 0;
    int atoms = 0;
    std::vector<int> holding = around(point);
    for (const int chain : holding) {
        const Chain& c = chains_[static_cast<std::size_t>(chain)];
        atoms += c.last - c.first;
    }
    if (atoms <= many_atoms || !curve_index_) {
        for (const int chain : holding)
            if (group_left_out < 0 || group(chain) != group_left_out)
                winding += this->winding(chain, point);
        return winding;
    }
    // Only what the ray to the right may cross.
    Box2 ray(point, point);
    ray.extend(Point2(std::numeric_limits<double>::max(), point.y()));
    curve_index_->tree.for_each_overlap(curve_index_->frame(ray, 0.0), [&](std::int32_t i) {
        const auto index = static_cast<std::size_t>(i);
        const int crossed = crossings(atoms_[index], point, most_bisections);
        if (crossed != 0 && (group_left_out < 0 || group(owner_[index]) != group_left_out))
            winding += crossed;
    });
    return winding;
}

std::vector<int> LoopField::around(const Point2& point) const {
    std::vector<int> found;
    if (!index_) return found;
    index_->tree.for_each_overlap(index_->frame(Box2(point, point), 0.0), [&](std::int32_t chain) {
        if (chains_[static_cast<std::size_t>(chain)].box.contains(point)) found.push_back(chain);
    });
    std::sort(found.begin(), found.end());
    return found;
}

std::array<Point2, 3> LoopField::places(int chain) const {
    const Chain& c = chains_[static_cast<std::size_t>(chain)];
    std::array<Point2, 3> points;
    for (int i = 0; i < 3; ++i) {
        const int atom =
            c.first + static_cast<int>(static_cast<long long>(c.last - c.first) * i / 3);
        points[static_cast<std::size_t>(i)] =
            atoms_[static_cast<std::size_t>(atom)].halves().first.end;
    }
    return points;
}

int LoopField::winding_of_most(int chain, const std::array<Point2, 3>& points) const {
    std::array<int, 3> w;
    for (std::size_t i = 0; i < 3; ++i) w[i] = winding(chain, points[i]);
    std::sort(w.begin(), w.end());
    return w[1];
}

bool LoopField::is_empty(int chain) const {
    const Chain& c = chains_[static_cast<std::size_t>(chain)];
    return c.first == c.last;
}

}  // namespace planform::offset_detail
